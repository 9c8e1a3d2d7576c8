import type { Matrix } from '../ink/mark.ts'
import type { PdfFunction } from './function.ts'
import type { ColorSpace } from './reading.ts'
import type { PointSource } from './shading-field.ts'

/**
 * Colours by a function of both coordinates (type 1). Source: ISO 32000-2, 8.7.4.5.2.
 * @param domain lowest and highest x, then y, where it is painted
 * @param toDomain page mm to the function's coordinates
 */
export function placesSource(
  space: ColorSpace,
  color: PdfFunction,
  [x0, x1, y0, y1]: readonly [number, number, number, number],
  [a, b, c, d, e, f]: Matrix,
): PointSource {
  const n = space.components
  const one = new Float64Array(Math.max(n, color.outputs))
  const input = new Float64Array(2)
  return {
    inks: space.inks,
    line: (x, y, step, count, out, painted) => {
      const values = new Float32Array(count * n)
      for (let i = 0; i < count; i++) {
        const px = x + i * step
        input[0] = a * px + c * y + e
        input[1] = b * px + d * y + f
        const inside = input[0] >= x0 && input[0] <= x1 && input[1] >= y0 && input[1] <= y1
        painted[i] = inside ? 1 : 0
        if (!inside) continue
        color.run(input, one)
        for (let k = 0; k < n; k++) values[i * n + k] = one[k]!
      }
      spread(space, values, count, out)
    },
  }
}

/** Colours one after another as amounts of each ink. */
export function spread(
  space: ColorSpace,
  values: Float32Array,
  count: number,
  out: readonly Float32Array[],
): void {
  const tints = space.manyTints(values)
  const n = space.inks.length
  for (let k = 0; k < n; k++) for (let i = 0; i < count; i++) out[k]![i] = tints[i * n + k]!
}
