import type { MaterialMap, PlaneData } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'

/**
 * How bright each pixel of a map may become, 1..255, roughly: bare metal most, then white, and inks dim both. It only
 * steers which pixels are looked at more often, and counts for each that is looked at as much less: no mean moves with it.
 */
export function brightPixels(map: MaterialMap): Uint8Array {
  const pixels = map.width * map.height
  const out = new Float32Array(pixels)
  const metal = valuesOf(map, 'metal')
  for (let i = 0; i < pixels; i++) out[i] = metal[i]! / 255
  for (const { coverage } of map.whites) cover(out, valuesOf(map, coverage))
  for (let i = 0; i < pixels; i++) out[i] = whiteOverMetal + (1 - whiteOverMetal) * out[i]!
  for (const name of ['C', 'M', 'K', ...map.spots.map(spot => spot.coverage)]) cover(out, valuesOf(map, name))
  const bright = new Uint8Array(pixels)
  for (let i = 0; i < pixels; i++) bright[i] = Math.round(255 * (least + (1 - least) * out[i]!))
  return bright
}

/** Parts of how often bare metal is looked at: white, and what lies under solid ink. */
const whiteOverMetal = 0.5
const least = 0.2

function cover(out: Float32Array, values: PlaneData): void {
  for (let i = 0; i < out.length; i++) out[i]! *= 1 - values[i]! / 255
}

/** A plane of one byte a pixel, row by row; zeros where it is missing. */
function valuesOf({ width, height, planes }: MaterialMap, name: string): PlaneData {
  const plane = planes.get(name)
  if (plane?.layout === 'full') return plane.data
  const out = new Uint8Array(width * height)
  const reader = new PlaneReader(plane, width)
  for (let row = 0, i = 0; row < height; row++)
    for (let column = 0; column < width; column++, i++) {
      const at = reader.at(column, row)
      if (at >= 0) out[i] = reader.data[at]!
    }
  return out
}
