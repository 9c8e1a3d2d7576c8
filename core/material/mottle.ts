import type { Grid } from './grid.ts'

/** One standard deviation of unevenness in the plane's bytes; the noise never reaches beyond 3.27 of them. */
const deviation = 38
const middle = 128

/** Unevenness of a coat, rms 1 and mean 0, from a byte of the plane `mottle`. */
export const unevennessOf = (byte: number): number => (byte - middle) / deviation

/** Number of the `mottle` plane in the shader's terms: unevenness = byte · scale + offset. */
export const mottleScale = 1 / deviation
export const mottleOffset = -middle / deviation

/** Patches of a mottled coat, mm, and their part of the variance; common practice, no source: 0.5 to 3 mm is what the eye minds. */
const octaves = [
  { size: 3, part: 0.6 },
  { size: 0.5, part: 0.4 },
] as const

/** Coarser than this a pixel holds the mean over its area, mm. */
const finest = 0.1
const mostSamples = 16

/**
 * Unevenness of a white coat, one byte a pixel, row by row: noise that depends on the place in mm alone, so that a
 * carton looks the same at every resolution, and one plate like another.
 */
export function mottlePlane({
  width,
  height,
  widthMm,
  heightMm,
}: Pick<Grid, 'width' | 'height' | 'widthMm' | 'heightMm'>): Uint8Array {
  const data = new Uint8Array(width * height)
  const stepX = widthMm / width
  const stepY = heightMm / height
  const samples = Math.min(mostSamples, Math.max(1, Math.ceil(Math.max(stepX, stepY) / finest)))
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = 0
      for (let j = 0; j < samples; j++)
        for (let i = 0; i < samples; i++)
          sum += unevenness((x + (i + 0.5) / samples) * stepX, (y + (j + 0.5) / samples) * stepY)
      data[y * width + x] = Math.round(middle + (deviation * sum) / samples ** 2)
    }
  return data
}

/** Noise at a place, mm from the upper left corner; mean 0, mean square 1. */
export function unevenness(x: number, y: number): number {
  let sum = 0
  for (const [i, { size, part }] of octaves.entries())
    sum += (Math.sqrt(part) / latticeDeviation) * lattice(x / size, y / size, i)
  return sum
}

/**
 * Values at whole places, even in −1..1, with a smooth step between: variance ⅓ (∫ s² + (1 − s)²)² with s = 3t² − 2t³,
 * whose integral is 26/35.
 */
const latticeDeviation = 26 / 35 / Math.sqrt(3)

function lattice(x: number, y: number, octave: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)]
  const [u, v] = [smooth(x - left), smooth(y - top)]
  const above = value(left, top, octave) * (1 - u) + value(left + 1, top, octave) * u
  const below = value(left, top + 1, octave) * (1 - u) + value(left + 1, top + 1, octave) * u
  return above * (1 - v) + below * v
}

const smooth = (t: number) => t * t * (3 - 2 * t)

/** A fixed scramble of three whole numbers, even in −1..1. */
function value(x: number, y: number, octave: number): number {
  let h = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1) ^ Math.imul(octave + 1, 0x9e3779b1)
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return ((h ^ (h >>> 16)) >>> 0) / 0x7fffffff - 1
}
