import type { Plane, Rows } from './layer.ts'

/**
 * One sample of pixels that lie in memory, row by row, samples together.
 * @param step   samples a pixel
 * @param first  number of the sample
 * @param curve  what each number stands for in the plane; null where they are the same
 */
export function samplePlane(
  data: Uint8Array | Uint8ClampedArray | Uint16Array,
  width: number,
  step: number,
  first: number,
  rows: Rows,
  curve: Uint8Array | null,
): Plane {
  const size = width * (rows.bottom - rows.top)
  const out = data instanceof Uint16Array ? new Uint16Array(size) : new Uint8Array(size)
  let at = rows.top * width * step + first
  if (curve === null) for (let i = 0; i < size; i++, at += step) out[i] = data[at]!
  else for (let i = 0; i < size; i++, at += step) out[i] = curve[data[at]!]!
  return { box: { left: 0, right: width, ...rows }, data: out }
}
