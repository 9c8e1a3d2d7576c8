import type { MaterialMap } from '../material/map.ts'
import { PlaneReader } from '../material/plane.ts'

/** One component of a plane of the map as bytes, row by row; null where the map has no such plane. */
export function bytesOf(
  { planes, width, height }: MaterialMap,
  name: string | null,
  component = 0,
): Uint8Array | null {
  const plane = name === null ? undefined : planes.get(name)
  if (plane === undefined) return null
  if (plane.layout === 'full' && plane.components === 1 && plane.data instanceof Uint8Array) return plane.data
  const reader = new PlaneReader(plane, width)
  const out = new Uint8Array(width * height)
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      const at = reader.at(x, y)
      if (at >= 0) out[i] = reader.data[at + component]!
    }
  return out
}

/** The inks of a map as bytes, C M Y K and spot inks in the order of the map; white and varnish are none. */
export function inksOf(map: MaterialMap): readonly { readonly name: string; readonly data: Uint8Array }[] {
  return [
    ...(['C', 'M', 'Y', 'K'] as const).map(name => ({ name, data: bytesOf(map, name) })),
    ...map.spots.map(({ name, coverage }) => ({ name, data: bytesOf(map, coverage) })),
  ].flatMap(({ name, data }) => (data === null ? [] : [{ name, data }]))
}

/** The most ink of any plate at each pixel, 0..255. */
export function anyInk(map: MaterialMap): Uint8Array {
  const out = new Uint8Array(map.width * map.height)
  for (const { data } of inksOf(map))
    for (let i = 0; i < out.length; i++) if (data[i]! > out[i]!) out[i] = data[i]!
  return out
}

/** The most of any white at each pixel, 0..255; null without white. */
export function anyWhite(map: MaterialMap): Uint8Array | null {
  const all = map.whites.flatMap(({ coverage }) => bytesOf(map, coverage) ?? [])
  const [first, ...more] = all
  if (first === undefined || more.length === 0) return first ?? null
  const out = first.slice()
  for (const data of more) for (let i = 0; i < out.length; i++) if (data[i]! > out[i]!) out[i] = data[i]!
  return out
}
