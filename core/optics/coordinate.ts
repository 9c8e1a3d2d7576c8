/**
 * Coordinate at which a texture of `count` texels is read with linear filtering, so that x = 0 falls on the middle
 * of the first texel and x = 1 on the middle of the last: (x (N − 1) + ½) / N.
 */
export function tableCoordinate(x: number, count: number): number {
  return (x * (count - 1) + 0.5) / count
}

/**
 * A table as the shader and the reference both read it: `width` × `height` texels, row by row, of `channels` numbers.
 */
export interface Table {
  readonly width: number
  readonly height: number
  readonly channels: 1 | 4
  readonly data: Float32Array
}

/** Linear between the texels of one row, as the graphics card filters; x is held to [0, 1]. */
export function readTable(table: Table, x: number, row: number, channel = 0): number {
  const { width, channels, data } = table
  // In texels from the middle of the first: `tableCoordinate` without the way through the texture.
  const at = Math.min(1, Math.max(0, x)) * (width - 1)
  const left = Math.max(0, Math.min(at | 0, width - 2))
  const start = (row * width + left) * channels + channel
  const first = data[start]!
  return width === 1 ? first : first + (at - left) * (data[start + channels]! - first)
}
