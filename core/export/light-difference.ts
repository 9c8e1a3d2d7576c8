import { deltaE2000 } from '../color/deltae.ts'
import { xyzToLab } from '../color/lab.ts'
import type { XYZ } from '../color/xyz.ts'

/** How far two pictures of light differ. */
export interface DifferenceNumbers {
  /** Pixels that both show whole; the numbers below are of these. */
  readonly compared: number
  /** Part of them above 1, 2 and 5 ΔE00, 0..1. */
  readonly above1: number
  readonly above2: number
  readonly above5: number
  readonly mean: number
  readonly max: number
  /** Part of them that is brighter than paper white in either: CIEDE2000 was made for colours below it. */
  readonly beyondWhite: number
  /** Pixels that only one of them shows, as a part of those that either does: another outline. */
  readonly apart: number
}

export interface LightDifference {
  /** A value a pixel: ΔE00; NaN where neither shows anything whole, Infinity where only one does. */
  readonly map: Float32Array
  readonly numbers: DifferenceNumbers
}

/**
 * Colour difference of two pictures, pixel by pixel, by CIEDE2000 of their CIELAB against one white. Pixels on an edge,
 * which show the panel in part, are left out.
 * @param a, b  X, Y, Z, met a pixel, as `renderTile` gives them, of one size
 * @param white X, Y, Z of paper white in the same units
 */
export function lightDifference(a: Float32Array, b: Float32Array, white: XYZ): LightDifference {
  if (a.length !== b.length) throw new RangeError('lightDifference: expected two pictures of one size')
  const map = new Float32Array(a.length / 4).fill(Number.NaN)
  const above = [0, 0, 0]
  let [compared, sum, max, beyond, apart] = [0, 0, 0, 0, 0]
  for (let i = 0; i < map.length; i++) {
    const at = 4 * i
    const [inA, inB] = [a[at + 3]!, b[at + 3]!]
    if (inA === 0 && inB === 0) continue
    // Half a pixel and more: less is the same edge, sampled elsewhere.
    if (Math.abs(inA - inB) > 0.5) {
      map[i] = Number.POSITIVE_INFINITY
      apart++
      continue
    }
    if (inA < 1 || inB < 1) continue
    const ΔE = deltaE2000(labAt(a, at, white), labAt(b, at, white))
    map[i] = ΔE
    compared++
    sum += ΔE
    max = Math.max(max, ΔE)
    for (const [n, limit] of counted.entries()) if (ΔE > limit) above[n]!++
    if (Math.max(a[at + 1]!, b[at + 1]!) > white[1]) beyond++
  }
  const part = (count: number) => count / Math.max(1, compared)
  return {
    map,
    numbers: {
      compared,
      above1: part(above[0]!),
      above2: part(above[1]!),
      above5: part(above[2]!),
      mean: sum / Math.max(1, compared),
      max,
      beyondWhite: part(beyond),
      apart: apart / Math.max(1, compared + apart),
    },
  }
}

const counted = [1, 2, 5] as const

const labAt = (light: Float32Array, at: number, white: XYZ) =>
  xyzToLab([light[at]!, light[at + 1]!, light[at + 2]!], white)

/** A step of the legend: differences from `from` up to the next have its colour. */
export interface DifferenceStep {
  /** ΔE00. */
  readonly from: number
  /** sRGB, 0..255. */
  readonly color: readonly [number, number, number]
}

/** Dark to light as the difference grows, so that the order is seen without hues too. Our own choice. */
export const differenceSteps: readonly DifferenceStep[] = [
  { from: 0, color: [24, 28, 36] },
  { from: 1, color: [38, 66, 122] },
  { from: 2, color: [34, 128, 132] },
  { from: 5, color: [214, 150, 44] },
  { from: 10, color: [255, 228, 150] },
]
/** Where only one of two pictures shows anything. */
export const apartColor: readonly [number, number, number] = [214, 60, 130]
/** Where neither does, and on edges. */
const groundColor: readonly [number, number, number] = [70, 70, 70]

/** The map of a difference in the colours of its legend: RGB, 8 bits, row by row. */
export function differencePicture({ map }: Pick<LightDifference, 'map'>): Uint8Array<ArrayBuffer> {
  const rgb = new Uint8Array(3 * map.length)
  for (const [i, ΔE] of map.entries()) {
    const color = Number.isNaN(ΔE)
      ? groundColor
      : ΔE === Number.POSITIVE_INFINITY
        ? apartColor
        : differenceSteps.findLast(step => ΔE >= step.from)!.color
    rgb.set(color, 3 * i)
  }
  return rgb
}
