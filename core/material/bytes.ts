import type { MaterialMap } from './map.ts'

/**
 * Bytes that the planes of a map hold; a tile index shared by planes counts once.
 * A panel of about 1000 pixels or more a side takes at most 8 bytes a pixel without holography (metal, C, M, Y, K,
 * one white, area) and at most 20 with one grating everywhere; each further white, spot ink or varnish adds 1, each
 * further grating 12 where it lies. Tiles at the right and lower edge are whole, which weighs more on a tiny map.
 */
export function mapBytes(map: MaterialMap): number {
  const buffers = new Set<ArrayBufferLike>()
  for (const plane of map.planes.values()) {
    buffers.add(plane.data.buffer)
    if (plane.layout === 'tiles') buffers.add(plane.index.buffer)
  }
  let sum = 0
  for (const buffer of buffers) sum += buffer.byteLength
  return sum
}
