/**
 * Gaussian blur of a plane, both directions; samples beyond the plane repeat its edge.
 * @param sigma  pixels, ≥ 0; the kernel ends at 3.5 sigma, where 5e-4 of it is left
 */
export function gaussianBlur(data: Float32Array, width: number, height: number, sigma: number): Float32Array {
  if (sigma <= 0) return data
  const kernel = gaussianKernel(sigma)
  const reach = (kernel.length - 1) / 2
  const across = new Float32Array(data.length)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = 0
      for (let k = -reach; k <= reach; k++)
        sum += kernel[k + reach]! * data[y * width + Math.min(width - 1, Math.max(0, x + k))]!
      across[y * width + x] = sum
    }
  const out = new Float32Array(data.length)
  // Row by row, so that memory is walked in order.
  for (let y = 0; y < height; y++)
    for (let k = -reach; k <= reach; k++) {
      const from = Math.min(height - 1, Math.max(0, y + k)) * width
      const weight = kernel[k + reach]!
      for (let x = 0; x < width; x++) out[y * width + x]! += weight * across[from + x]!
    }
  return out
}

/** How far a blur of this sigma looks, whole pixels. */
export const blurReach = (sigma: number): number => Math.ceil(sigma * 3.5)

function gaussianKernel(sigma: number): Float64Array {
  const reach = blurReach(sigma)
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)),
  )
  const sum = kernel.reduce((a, b) => a + b, 0)
  return kernel.map(v => v / sum)
}
