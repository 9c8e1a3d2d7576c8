import type { CoveragePlane } from '../white/contour.ts'

/**
 * How wide what is covered is at each pixel, mm, as a straight line would be: of the chords along its row and its column,
 * h and v, w with 1/w² = 1/h² + 1/v². Chords add coverage up, so lines thinner than a pixel have their own width.
 * Where nothing is covered it is 0. Chords that reach the plane's border are cut there.
 */
export function chordWidths({ width, height, data }: CoveragePlane, pixelMm: number): Float32Array {
  const rows = new Float32Array(data.length)
  const columns = new Float32Array(data.length)
  for (let y = 0; y < height; y++) fill(data, rows, y * width, 1, width)
  for (let x = 0; x < width; x++) fill(data, columns, x, width, height)
  for (let i = 0; i < data.length; i++) {
    const [h, v] = [rows[i]!, columns[i]!]
    rows[i] = h === 0 ? 0 : (pixelMm * h * v) / Math.hypot(h, v)
  }
  return rows
}

/** Less coverage than this is none, 0..255. */
const none = 8

/** Chords of one row or column, pixels: each pixel of a run has the sum of the run's coverage. */
function fill(data: Uint8Array, out: Float32Array, first: number, step: number, count: number): void {
  for (let n = 0; n < count; ) {
    if (data[first + n * step]! < none) {
      n++
      continue
    }
    let sum = 0
    let to = n
    for (; to < count && data[first + to * step]! >= none; to++) sum += data[first + to * step]!
    for (let k = n; k < to; k++) out[first + k * step] = sum / 255
    n = to
  }
}
