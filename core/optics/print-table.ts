import { conditionNodes, decodeFactor, encodeFactor, rootAt } from '../color/print-condition.ts'
import type { LightSource } from '../color/spectrum.ts'
import type { Table } from './coordinate.ts'
import type { Inks } from './ink.ts'
import { atNodes, inkNodes, nodeWeights } from './ink-nodes.ts'
import { inksFor, type Printing } from './print.ts'
import { nodeColors, nodeCount } from './smooth.ts'
import { primaryCount, printNodes } from './tables.ts'

/**
 * Factor of the process inks on scattered light, X, Y, Z, at {@link printNodes}⁴ tones, as `encodeFactor` holds it:
 * column cyan + 17 magenta, row yellow + 17 black. Straight lines between, in all four inks: over random inks 0.06
 * ΔE00 in the mean and 0.6 at most of the profile's engine, colorimetric; 0.07 and 1.6 perceptual.
 */
export function printTable(printing: Printing, lamp: LightSource): Table {
  const inks = inksFor(printing)
  const { condition } = printing
  const here = boardWeights(inks, lamp)
  const usual = condition !== null && lamp !== 'D50' ? boardWeights(inks, 'D50') : null
  const side = printNodes ** 2
  const data = new Float32Array(4 * side * side)
  const step = (conditionNodes - 1) / (printNodes - 1)
  const modelled = condition === null || usual !== null
  const now = new Float64Array(3)
  const then = new Float64Array(3)
  eachTone(inks, modelled, (c, m, y, k, filter) => {
    const to = 4 * ((y + printNodes * k) * side + c + printNodes * m)
    if (modelled) weighed(filter, here, now)
    if (usual) weighed(filter, usual, then)
    const node = step * (c + conditionNodes * (m + conditionNodes * (y + conditionNodes * k)))
    for (let i = 0; i < 3; i++) {
      const printed = condition === null ? now[i]! : decodeFactor(rootAt(condition, 3 * node + i))
      data[to + i] = encodeFactor(usual ? (printed * now[i]!) / then[i]! : printed)
    }
  })
  return { width: side, height: side, channels: 4, data }
}

/**
 * What spot inks change on scattered light. Rows 0, 1: t of the 16 primaries at the nodes, four a texel; rows 2, 3:
 * t of the spot inks; row 4: weights of the nodes, X, Y, Z. Null without spots.
 */
export function spotNodes(
  light: Float64Array,
  primaries: readonly Float64Array[],
  spots: readonly Float64Array[],
): Table | null {
  if (spots.length === 0) return null
  const width = Math.max(primaryCount, spots.length)
  const data = new Float32Array(4 * width * spotNodeRows)
  const half = inkNodes.length / 2
  for (const [first, filters] of [
    [0, primaries],
    [2, spots],
  ] as const)
    filters.forEach((filter, f) => {
      atNodes(filter).forEach((t, n) => {
        data[4 * ((first + Math.floor(n / half)) * width + f) + (n % half)] = t
      })
    })
  nodeWeights(light, primaries, spots).forEach((byNode, c) => {
    byNode.forEach((weight, n) => {
      data[4 * (4 * width + n) + c] = weight
    })
  })
  return { width, height: spotNodeRows, channels: 4, data }
}
export const spotNodeRows = 5

/** Weights of the spectrum's nodes, so that Σ w t² is the light through the inks on the board over the board's. */
function boardWeights({ boardNodes }: Inks, lamp: LightSource): readonly Float64Array[] {
  return nodeColors(lamp).map(hats => {
    const weights = hats.map((w, i) => w * boardNodes[i]!)
    const sum = weights.reduce((a, b) => a + b, 0)
    return weights.map(w => w / sum)
  })
}

function weighed(filter: Float64Array, weights: readonly Float64Array[], out: Float64Array): void {
  for (let c = 0; c < 3; c++) {
    const byNode = weights[c]!
    let sum = 0
    for (let i = 0; i < nodeCount; i++) sum += byNode[i]! * filter[i]! * filter[i]!
    out[c] = sum
  }
}

/**
 * Calls back for every tone of the table with the mean filter Σ a t there at the spectrum's nodes. An ink at a time is
 * mixed in, black first, so that the innermost loop mixes two filters and not sixteen.
 */
function eachTone(
  inks: Inks,
  wanted: boolean,
  visit: (c: number, m: number, y: number, k: number, filter: Float64Array) => void,
): void {
  const nodeStep = (inks.board.length - 1) / (nodeCount - 1)
  const all = inks.primaries.map(t => Float64Array.from({ length: nodeCount }, (_, i) => t[i * nodeStep]!))
  const rooms = [8, 4, 2, 1].map(n => Array.from({ length: n }, () => new Float64Array(nodeCount)))
  const mixed = (from: readonly Float64Array[], tone: number, to: readonly Float64Array[]) => {
    if (!wanted) return to
    const part = tone / (printNodes - 1)
    to.forEach((out, f) => {
      const without = from[f]!
      const withInk = from[f + to.length]!
      for (let i = 0; i < nodeCount; i++) out[i] = without[i]! + part * (withInk[i]! - without[i]!)
    })
    return to
  }
  for (let k = 0; k < printNodes; k++) {
    const black = mixed(all, k, rooms[0]!)
    for (let y = 0; y < printNodes; y++) {
      const yellow = mixed(black, y, rooms[1]!)
      for (let m = 0; m < printNodes; m++) {
        const magenta = mixed(yellow, m, rooms[2]!)
        for (let c = 0; c < printNodes; c++) visit(c, m, y, k, mixed(magenta, c, rooms[3]!)[0]!)
      }
    }
  }
}
