import { chance } from '../../effects/chance.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { MapPixels } from '../sweep/map-pixels.ts'

/** A pixel that stands for others near it. */
export interface SpreadPixel {
  readonly column: number
  readonly row: number
  /** Pixels that it stands for, itself too: right for how bright the set is made as a whole. */
  readonly count: number
  /** The same, right for its surroundings alone: what a flash that lies there is weighed by. */
  readonly near: number
}

/**
 * About so many pixels of a set, spread over it; a set that is no larger is taken whole. The same draw is always the
 * same, another whole number another one.
 */
export type Spread = (most: number, draw?: number) => readonly SpreadPixel[]

/**
 * Spreads pixels of a set: squares are divided until each is about as bright, and each gives one pixel, brighter ones more
 * often and counted less, so that a mean over them is one over the set, with less noise. A pixel is chosen by what lies in
 * its own square alone: after an edit elsewhere the same ones are.
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
    return { column, row: (sorted[i]! - column) / width, count, near: count }
  }
  const balance = balanceOf(pixels, bright)
  return (most, draw = 0) => {
    if (pixels.length <= most) return Array.from(sorted, (_, i) => at(i, 1))
    // Rounded, so that an edit does not move all of them.
    const step = split * 2 ** (Math.round(4 * Math.log2(sums[count]! / most)) / 4)
    const out: SpreadPixel[] = []
    const choose = (first: number, together: number): void => {
      const last = Math.min(count, first + together)
      const whole = last <= first ? 0 : sums[last]! - sums[first]!
      if (whole === 0) return
      if (whole > step && together > 1) {
        for (let quarter = 0; quarter < 4; quarter++) choose(first + (quarter * together) / 4, together / 4)
        return
      }
      const square = together === 1 ? first : drawn(sums, first, last, draw)
      const own = sums[square + 1]! - sums[square]!
      // The smallest squares are not divided: they give as many as are wanted.
      const wanted = together === 1 ? Math.ceil(whole / step) : 1
      const start = chance(square, together, draw, 1)
      let i = starts[square]!
      let passed = bright[sorted[i]!]!
      for (let k = 0; k < wanted; k++) {
        for (const target = ((k + start) / wanted) * own; passed <= target; passed += bright[sorted[i]!]!) i++
        out.push(at(i, whole / (wanted * bright[sorted[i]!]!)))
      }
    }
    choose(0, 4 ** Math.ceil(Math.log2(count) / 2))
    return balance(out, width)
  }
}

/**
 * One of some squares, each as likely as it is bright: the first to ring of clocks that run as fast. A square that
 * changes leaves the others' clocks as they were.
 */
function drawn(sums: Float64Array, first: number, last: number, draw: number): number {
  let earliest = Number.POSITIVE_INFINITY
  let chosen = first
  for (let square = first; square < last; square++) {
    const weight = sums[square + 1]! - sums[square]!
    if (weight === 0) continue
    const rings = -Math.log(1 - chance(square, first, draw, 0)) / weight
    if (rings >= earliest) continue
    earliest = rings
    chosen = square
  }
  return chosen
}

/**
 * Sets counts right by brightness: those of each class sum to its pixels. Chosen by chance, they only do so in the mean.
 */
function balanceOf(pixels: MapPixels, bright: Uint8Array) {
  const having = new Float64Array(256)
  for (let i = 0; i < pixels.length; i++) having[bright[pixels[i]!]!]!++
  const whole = having.reduce((sum, count, value) => sum + count * value, 0)
  let passed = 0
  const classOf = Uint8Array.from(having, (count, value) => {
    const middle = passed + (count * value) / 2
    passed += count * value
    return Math.min(classes - 1, Math.floor((classes * middle) / whole))
  })
  const pixelsOf = new Float64Array(classes)
  for (const [value, count] of having.entries()) pixelsOf[classOf[value]!]! += count
  return (chosen: readonly SpreadPixel[], width: number): readonly SpreadPixel[] => {
    const counts = new Float64Array(classes)
    const classFor = ({ column, row }: SpreadPixel): number => classOf[bright[row * width + column]!]!
    for (const one of chosen) counts[classFor(one)]! += one.near
    return chosen.map(one => {
      const own = classFor(one)
      return { ...one, count: (one.near * pixelsOf[own]!) / counts[own]! }
    })
  }
}

/** Classes of brightness, each with as much chance to be chosen. */
const classes = 6

/** Squares of the finest raster are at least so many pixels wide, as a power of two, and at most so many lie side by side. */
const finest = 4
const mostAcross = 1024
/** Squares are divided as long as they are this many times as bright as is asked for on the mean. */
const split = 2

/** For each number up to `last` its bits with a 0 between each two. */
function interleaved(last: number): Uint32Array {
  return Uint32Array.from({ length: last + 1 }, (_, value) => {
    let bits = 0
    for (let i = 0; value >> i > 0; i++) bits += ((value >> i) & 1) * 4 ** i
    return bits
  })
}
