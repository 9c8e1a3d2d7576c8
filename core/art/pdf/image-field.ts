import type { InkField, Matrix } from '../ink/mark.ts'
import { type Laid, sampler } from './image-sampler.ts'

/**
 * Amounts of an image. Every sample is a rectangle of one colour, and a square of the page gets the mean of what it
 * covers, by area: where samples are finer they are averaged, where they are coarser a square within one has it exactly,
 * and one on the edge of two is between them, as squares on edges of paths are. Turned images are asked at some places of
 * a square instead, at least 4 × 4 and at most 16 × 16.
 * @param colour null: `constant` everywhere
 * @param alpha  one part, how much is painted; null: all
 */
export function imageField(
  inks: readonly number[],
  color: Laid | null,
  constant: readonly number[],
  alpha: Laid | null,
  matrix: Matrix,
): InkField {
  const whole = color ?? alpha
  if (whole === null) throw new Error('an image has colours or a shape')
  const weights = color === null || alpha === null ? null : keptWeights(color, alpha)
  const paintColor = color === null ? null : sampler(color, matrix, weights)
  const paintShape = alpha === null ? null : sampler(alpha, matrix, null)
  let spare = [new Float32Array(0), new Float32Array(0)] as const
  return {
    inks,
    row: (x, y, step, count, out, shape) => {
      if (paintColor === null) for (const [k, amount] of constant.entries()) out[k]!.fill(amount, 0, count)
      else paintColor(x, y, step, count, out, shape)
      if (paintShape === null) return
      if (spare[0].length < count) spare = [new Float32Array(count), new Float32Array(count)]
      const [covered, there] = spare
      paintShape(x, y, step, count, [covered], there)
      for (let i = 0; i < count; i++)
        shape[i] = covered[i]! * there[i]! * (paintColor === null ? 1 : shape[i]!)
    },
  }
}

/** An image that is placed many times is weighed once. */
const weighed = new WeakMap<Laid, Uint8Array>()

function keptWeights(color: Laid, alpha: Laid): Uint8Array {
  const weights = weighed.get(color) ?? weightsOf(color, alpha)
  weighed.set(color, weights)
  return weights
}

/** How much of each sample is painted, 0..255, by the nearest place of what cuts it. */
function weightsOf(color: Laid, { painted, height }: Laid): Uint8Array {
  const { width, rows } = color.painted.samples
  const { samples, parts } = painted
  const table = parts[0]!.table
  const rowBytes = samples.bits === 1 ? Math.ceil(samples.width / 8) : samples.width * samples.channels
  const out = new Uint8Array(width * rows)
  for (let y = 0; y < rows; y++) {
    const row = Math.floor(((y + 0.5) * height) / color.height)
    if (row >= samples.rows) continue
    for (let x = 0; x < width; x++) {
      const column = Math.floor(((x + 0.5) * samples.width) / width)
      const code =
        samples.bits === 1
          ? (samples.data[row * rowBytes + (column >> 3)]! >> (7 - (column & 7))) & 1
          : samples.data[row * rowBytes + column * samples.channels + parts[0]!.channel]!
      out[y * width + x] = Math.round(table[code]! * 255)
    }
  }
  return out
}
