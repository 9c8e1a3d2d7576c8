import type { Rays } from './camera.ts'

/**
 * Level of the map whose texels come closest to one pixel's footprint on the panel: the longer of the panel steps
 * that one pixel to the right and one below make there, in texels, as a power of two.
 * @param depth        of the panel point along the eye's axis, mm
 * @param kx, ky       panel step a unit of depth-wise ray: the ray's slope x/z and y/z there, panel frame
 * @param pixelsPerMm  of level 0
 */
export function footprintLevel(
  rays: Rays,
  depth: number,
  kx: number,
  ky: number,
  pixelsPerMm: number,
  levels: number,
): number {
  const { stepX, stepY } = rays
  const rightX = stepX[0] - kx * stepX[2]
  const rightY = stepX[1] - ky * stepX[2]
  const downX = stepY[0] - kx * stepY[2]
  const downY = stepY[1] - ky * stepY[2]
  const longest = Math.max(rightX * rightX + rightY * rightY, downX * downX + downY * downY)
  const texels2 = (depth * pixelsPerMm) ** 2 * longest
  // Halfway between two levels, in powers of two, the square of the texels is 2, 8, 32, …
  let level = 0
  for (let next = 2; texels2 >= next && level < levels - 1; next *= 4) level++
  return level
}
