import type { CoveragePlane } from '../white/contour.ts'

/**
 * How wide what is covered is at each pixel, mm, as a straight line would be: of the chords along its row and its column,
 * h and v, w with 1/w² = 1/h² + 1/v². Chords add coverage up, so lines thinner than a pixel have their own width.
 * Where nothing is covered it is 0. Chords that reach the plane's border are cut there.
 */
export function chordWidths({ width, height, data }: CoveragePlane, pixelMm: number): Float32Array {
  // Coverage of the column's run from its upper end to here, and then, from below, of all of it.
  const out = new Float32Array(data.length)
  for (let i = 0; i < data.length; i++) {
    const covered = data[i]!
    if (covered >= none) out[i] = i < width ? covered : out[i - width]! + covered
  }
  const down = new Float32Array(width)
  const across = new Float32Array(width)
  for (let first = (height - 1) * width; first >= 0; first -= width) {
    fillRow(data, first, across)
    for (let x = 0; x < width; x++) {
      const i = first + x
      if (data[i]! < none) {
        down[x] = 0
        continue
      }
      const run = down[x]!
      const sum = run === 0 ? out[i]! : run
      down[x] = sum
      const v = Math.fround(sum / 255)
      const h = across[x]!
      out[i] = (pixelMm * h * v) / Math.sqrt(h * h + v * v)
    }
  }
  return out
}

/** Less coverage than this is none, 0..255. */
const none = 8

/** Chords of one row, pixels: each pixel of a run has the sum of the run's coverage; where nothing is covered they stay. */
function fillRow(data: Uint8Array, first: number, out: Float32Array): void {
  for (let x = 0; x < out.length; ) {
    if (data[first + x]! < none) {
      x++
      continue
    }
    let sum = 0
    let to = x
    for (; to < out.length && data[first + to]! >= none; to++) sum += data[first + to]!
    out.fill(sum / 255, x, to)
    x = to
  }
}
