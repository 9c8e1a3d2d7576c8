import { chance } from '../../effects/chance.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { MapPixels } from '../sweep/map-pixels.ts'

/** A pixel that stands for others near it. */
export interface SpreadPixel {
  readonly column: number
  readonly row: number
  /** Pixels that it stands for, itself too. */
  readonly count: number
}

/**
 * About so many pixels of a set, spread over it; a set that is no larger is taken whole. The same draw is always the
 * same, another whole number another one.
 */
export type Spread = (most: number, draw?: number) => readonly SpreadPixel[]

/**
 * Spreads pixels of a set: each square of a raster gives one or more, the brighter ones more often and counted less, so
 * that a mean over them is one over the set, with less noise. A pixel is chosen by what lies in its own square alone:
 * after an edit elsewhere the same ones are.
 * @param bright of each pixel of the map, as `brightPixels` has it
 */
export function spreadOver(
  { width, height }: Pick<MaterialMap, 'width' | 'height'>,
  pixels: MapPixels,
  bright: Uint8Array,
): Spread {
  const shift = Math.max(finest, Math.ceil(Math.log2(Math.max(width, height) / mostAcross)))
  // Squares in Z order: four that follow each other make one of the next coarser raster.
  const across = interleaved((width - 1) >> shift)
  const down = interleaved((height - 1) >> shift).map(bits => 2 * bits)
  const count = across.at(-1)! + down.at(-1)! + 1
  const starts = new Uint32Array(count + 1)
  const squareOf = new Uint32Array(pixels.length)
  for (let i = 0; i < pixels.length; i++) {
    const row = Math.floor(pixels[i]! / width)
    squareOf[i] = across[(pixels[i]! - row * width) >> shift]! + down[row >> shift]!
    starts[squareOf[i]! + 1]!++
  }
  for (let i = 0; i < count; i++) starts[i + 1]! += starts[i]!
  const sorted = new Uint32Array(pixels.length)
  const next = starts.slice(0, count)
  for (let i = 0; i < pixels.length; i++) sorted[next[squareOf[i]!]!++] = pixels[i]!
  const sums = new Float64Array(count + 1)
  for (let i = 0; i < count; i++) {
    let sum = 0
    for (let at = starts[i]!; at < starts[i + 1]!; at++) sum += bright[sorted[at]!]!
    sums[i + 1] = sums[i]! + sum
  }
  const at = (i: number, count: number): SpreadPixel => {
    const column = sorted[i]! % width
    return { column, row: (sorted[i]! - column) / width, count }
  }
  const known = new Map<number, number>()
  return (most, draw = 0) => {
    if (pixels.length <= most) return Array.from(sorted, (_, i) => at(i, 1))
    const together = known.get(most) ?? coarseness(starts, most)
    known.set(most, together)
    // Rounded, so that an edit does not move all of them.
    const step = 2 ** (Math.round(4 * Math.log2(sums[count]! / most)) / 4)
    const out: SpreadPixel[] = []
    for (let first = 0; first < count; first += together) {
      const last = Math.min(count, first + together)
      const whole = sums[last]! - sums[first]!
      if (whole === 0) continue
      const taken = Math.max(1, Math.round(whole / step))
      const start = chance(first, together, draw, 0)
      let square = first
      let i = starts[first]!
      let passed = sums[first]!
      for (let k = 0; k < taken; k++) {
        const target = sums[first]! + ((k + start) * whole) / taken
        if (sums[square + 1]! <= target) {
          while (sums[square + 1]! <= target) square++
          i = starts[square]!
          passed = sums[square]!
        }
        while (passed + bright[sorted[i]!]! <= target) passed += bright[sorted[i++]!]!
        out.push(at(i, whole / (taken * bright[sorted[i]!]!)))
      }
    }
    return out
  }
}

/** Squares of the finest raster are at least so many pixels wide, as a power of two, and at most so many lie side by side. */
const finest = 3
const mostAcross = 1024
/** Part of the pixels that are asked for which one a square takes; the others go where it is bright. */
const evenly = 0.6

/** Squares that are taken as one, 1, 4, 16 …, so that not too many have pixels. */
function coarseness(starts: Uint32Array, most: number): number {
  for (let together = 1; ; together *= 4) {
    let used = 0
    for (let first = 0; first < starts.length - 1; first += together)
      if (starts[Math.min(starts.length - 1, first + together)]! > starts[first]!) used++
    if (used <= Math.max(1, evenly * most)) return together
  }
}

/** For each number up to `last` its bits with a 0 between each two. */
function interleaved(last: number): Uint32Array {
  return Uint32Array.from({ length: last + 1 }, (_, value) => {
    let bits = 0
    for (let i = 0; value >> i > 0; i++) bits += ((value >> i) & 1) * 4 ** i
    return bits
  })
}
