import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'

/**
 * How bright each pixel of a map may become, 1..255, roughly: bare metal most, then white, and inks dim both. It only
 * steers which pixels are looked at more often, and counts for each that is looked at as much less: no mean moves with it.
 */
export function brightPixels(map: MaterialMap): Uint8Array {
  const { width, height } = map
  const pixels = width * height
  const out = new Float32Array(pixels)
  each(map, 'metal', (pixel, metal) => {
    out[pixel] = metal / 255
  })
  for (const { coverage } of map.whites)
    each(map, coverage, (pixel, white) => {
      out[pixel]! *= 1 - white / 255
    })
  for (let pixel = 0; pixel < pixels; pixel++)
    out[pixel] = whiteOverMetal + (1 - whiteOverMetal) * out[pixel]!
  for (const name of ['C', 'M', 'K', ...map.spots.map(spot => spot.coverage)])
    each(map, name, (pixel, ink) => {
      out[pixel]! *= 1 - ink / 255
    })
  const bright = new Uint8Array(pixels)
  for (let pixel = 0; pixel < pixels; pixel++)
    bright[pixel] = Math.round(255 * (least + (1 - least) * out[pixel]!))
  return bright
}

/** Parts of how often bare metal is looked at: white, and what lies under solid ink. */
const whiteOverMetal = 0.5
const least = 0.2

function each(
  { width, height, planes }: MaterialMap,
  name: string,
  visit: (pixel: number, value: number) => void,
): void {
  const plane = new PlaneReader(planes.get(name), width)
  for (let row = 0, pixel = 0; row < height; row++)
    for (let column = 0; column < width; column++, pixel++) {
      const at = plane.at(column, row)
      if (at >= 0) visit(pixel, plane.data[at]!)
    }
}
