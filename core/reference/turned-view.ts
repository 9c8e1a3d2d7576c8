import type { Zoom } from './camera.ts'
import type { Solid } from './solid.ts'

/**
 * The whole view, or so much more that no corner of an object is cut off that is turned about its normal.
 * @param turnsDeg all that it is to have room for
 * @param aspect width / height of the picture
 */
export function roomToTurn(
  { widthMm, heightMm }: Pick<Solid, 'widthMm' | 'heightMm'>,
  turnsDeg: readonly number[],
  aspect: number,
): Zoom {
  const needed = turnsDeg.map(deg => {
    const [c, s] = [Math.abs(Math.cos((deg * Math.PI) / 180)), Math.abs(Math.sin((deg * Math.PI) / 180))]
    return Math.max(widthMm * s + heightMm * c, (widthMm * c + heightMm * s) / aspect)
  })
  const own = Math.max(heightMm, widthMm / aspect)
  return { scale: own / Math.max(own, ...needed), x: 0, y: 0 }
}
