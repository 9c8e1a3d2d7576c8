import { adaptation } from './adapt.ts'
import { xyzToLab } from './lab.ts'
import { apply, multiply } from './matrix.ts'
import { conditionNodes, decodeFactor, type PrintCondition, rootAt } from './print-condition.ts'
import { encode, rgbSpaces } from './rgb.ts'
import { whiteD50, whiteDisplay, type XYZ } from './xyz.ts'

/**
 * Turns whole planes of print into colours of a byte a component.
 * @param cmyk four bytes a pixel, 255 = solid
 * @param out  gets three bytes a pixel
 */
export type InkPlane = (cmyk: Uint8Array, out: Uint8Array) => Uint8Array

/** Tones of one ink in the table of a plane. */
const nodes = 17
/** Three colours of 9 bits travel in one number, 17 bits apart: each has room for its sum of five parts of 255. */
const field = 2 ** 17

/** L*a*b* relative to the paper: L* in 255ths of 100, a* and b* plus 128. */
export function labPlane(condition: PrintCondition): InkPlane {
  return inkPlane(condition, xyz => {
    const [L, a, b] = xyzToLab(xyz, whiteD50)
    return [L * 2.55, a + 128, b + 128]
  })
}

/** What a screen of sRGB shows of the print, paper as its white. */
export function screenPlane(condition: PrintCondition): InkPlane {
  const toRgb = multiply(rgbSpaces.srgb.fromXyz, adaptation(whiteD50, whiteDisplay))
  return inkPlane(condition, xyz => {
    const [r, g, b] = apply(toRgb, xyz)
    return [255 * encode(r), 255 * encode(g), 255 * encode(b)]
  })
}

/**
 * Of the 24 simplexes that a cell of the table falls into, the one with the tones in it is mixed: five corners, the
 * tones' parts in falling order as weights. A pixel like the one before costs nothing. Against the engine, L*a*b* in
 * bytes, random inks, colorimetric: 0.3 ΔE00 in the mean, the bytes' own steps included.
 */
function inkPlane(
  condition: PrintCondition,
  colorOf: (xyz: XYZ) => readonly [number, number, number],
): InkPlane {
  const table = tableOf(condition, colorOf)
  // By tone, for each ink: the node below, and the part of the way to the next (of 255) above the step to it (13 bits).
  const [belowC, belowM, belowY, belowK] = perInk((node, _part, step) => step * node)
  const [partC, partM, partY, partK] = perInk((_node, part, step) => (part << 13) | step)
  return (cmyk, out) => {
    const words = new Uint32Array(cmyk.buffer, cmyk.byteOffset, cmyk.byteLength >> 2)
    let last = -1
    let first = 0
    let second = 0
    let third = 0
    for (let i = 0, from = 0, to = 0; i < words.length; i++, from += 4, to += 3) {
      const word = words[i]!
      if (word !== last) {
        last = word
        const c = cmyk[from]!
        const m = cmyk[from + 1]!
        const y = cmyk[from + 2]!
        const k = cmyk[from + 3]!
        const a = partC[c]!
        const b = partM[m]!
        const d = partY[y]!
        const e = partK[k]!
        // Sorted without a branch: (x − y) & ((x − y) >> 31) is what y is above x, negative, or 0.
        const ab = (a - b) & ((a - b) >> 31)
        const de = (d - e) & ((d - e) >> 31)
        const upper = a - ab - (d - de)
        const lower = b + ab - (e + de)
        const highest = upper & (upper >> 31)
        const lowest = lower & (lower >> 31)
        const p1 = a - ab - highest
        const p4 = e + de + lowest
        const q2 = d - de + highest
        const q3 = b + ab - lowest
        const middle = (q2 - q3) & ((q2 - q3) >> 31)
        const p2 = q2 - middle
        const p3 = q3 + middle
        let at = belowC[c]! + belowM[m]! + belowY[y]! + belowK[k]!
        let sum = (255 - (p1 >> 13)) * table[at]!
        at += p1 & 8191
        sum += ((p1 >> 13) - (p2 >> 13)) * table[at]!
        at += p2 & 8191
        sum += ((p2 >> 13) - (p3 >> 13)) * table[at]!
        at += p3 & 8191
        sum += ((p3 >> 13) - (p4 >> 13)) * table[at]!
        at += p4 & 8191
        sum += (p4 >> 13) * table[at]!
        const high = (sum / (field * field)) | 0
        const rest = sum - high * (field * field)
        const mid = (rest / field) | 0
        first = (high / 510 + 0.5) | 0
        second = (mid / 510 + 0.5) | 0
        third = ((rest - mid * field) / 510 + 0.5) | 0
      }
      out[to] = first
      out[to + 1] = second
      out[to + 2] = third
    }
    return out
  }
}

/** A number for each tone of each ink, from the node below it, the part of 255 to the next, and the step between. */
function perInk(
  of: (node: number, part: number, step: number) => number,
): readonly [Int32Array, Int32Array, Int32Array, Int32Array] {
  const byTone = (step: number) =>
    Int32Array.from({ length: 256 }, (_, tone) => {
      const node = Math.min(nodes - 2, Math.floor((tone * (nodes - 1)) / 255))
      return of(node, tone * (nodes - 1) - 255 * node, step)
    })
  return [byTone(1), byTone(nodes), byTone(nodes ** 2), byTone(nodes ** 3)]
}

function tableOf(
  condition: PrintCondition,
  colorOf: (xyz: XYZ) => readonly [number, number, number],
): Float64Array {
  const table = new Float64Array(nodes ** 4)
  const step = (conditionNodes - 1) / (nodes - 1)
  let to = 0
  for (let k = 0; k < nodes; k++)
    for (let y = 0; y < nodes; y++)
      for (let m = 0; m < nodes; m++)
        for (let c = 0; c < nodes; c++) {
          const node = step * (c + conditionNodes * (m + conditionNodes * (y + conditionNodes * k)))
          const light = (i: 0 | 1 | 2) =>
            Math.max(0, decodeFactor(rootAt(condition, 3 * node + i))) * whiteD50[i]
          const [first, second, third] = colorOf([light(0), light(1), light(2)])
          table[to++] = (halves(first) * field + halves(second)) * field + halves(third)
        }
  return table
}

/** A byte's value in halves, 0..510. */
const halves = (value: number): number => Math.round(2 * Math.min(255, Math.max(0, value)))
