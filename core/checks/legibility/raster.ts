import type { BoxMm } from '../finding.ts'

/** Type at a resolution of its own: 1 = glyph, 0 = not. Square pixels, row by row, y down. */
export interface GlyphRaster {
  readonly width: number
  readonly height: number
  /** Side of a pixel, mm. */
  readonly pixelMm: number
  /** Upper left corner, mm from the art's lower left corner, y up. */
  readonly leftMm: number
  readonly topMm: number
  readonly inside: Uint8Array
}

/** Pixels of the map, y down; right and bottom are exclusive. */
export interface PixelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Where an object's glyphs lie, from the art itself and not from the map. */
export interface GlyphSource {
  /** Whether outlines or samples say so. */
  readonly kind: 'outlines' | 'samples'
  /** Glyphs over a box at a resolution, ppi. */
  raster(box: BoxMm, ppi: number): GlyphRaster
  /** Part of each of the map's pixels that is glyph, 0..1, row by row. */
  shares(box: PixelBox): Float32Array
}

/** Least resolution at which type is judged, and what outlines get where memory allows. */
export const leastPpi = 1200
export const outlinePpi = 2400

/** Side of the largest pixel that outlines are looked at by, mm. */
export const outlinePixelMm = 25.4 / leastPpi

/** Most pixels of one raster; 5 bytes each with the distances. */
const mostRasterPixels = 16e6

/** Longest side of a part of an object that is measured at once, mm: at the least resolution it fits the memory. */
export const partMm = 60

/** Resolution for a part of an object. */
export function ppiFor(kind: GlyphSource['kind'], box: BoxMm): number {
  const inches2 = ((box.rightMm - box.leftMm) * (box.topMm - box.bottomMm)) / 25.4 ** 2
  const most = Math.sqrt(mostRasterPixels / Math.max(inches2, 1e-9))
  return Math.max(leastPpi, Math.min(kind === 'outlines' ? outlinePpi : leastPpi, most))
}

/** An object's box in parts that can be measured at once. */
export function partsOf(box: BoxMm): readonly BoxMm[] {
  const along = (from: number, to: number): readonly (readonly [number, number])[] => {
    const n = Math.max(1, Math.ceil((to - from) / partMm))
    return Array.from({ length: n }, (_, i) => [
      from + ((to - from) * i) / n,
      from + ((to - from) * (i + 1)) / n,
    ])
  }
  return along(box.bottomMm, box.topMm).flatMap(([bottomMm, topMm]) =>
    along(box.leftMm, box.rightMm).map(([leftMm, rightMm]) => ({ leftMm, bottomMm, rightMm, topMm })),
  )
}

/** An empty raster over a box, a pixel wider on every side so that strokes end inside it. */
export function emptyRaster(box: BoxMm, ppi: number): GlyphRaster {
  const pixelMm = 25.4 / ppi
  const width = Math.ceil((box.rightMm - box.leftMm) / pixelMm) + 2
  const height = Math.ceil((box.topMm - box.bottomMm) / pixelMm) + 2
  return {
    width,
    height,
    pixelMm,
    leftMm: box.leftMm - pixelMm,
    topMm: box.topMm + pixelMm,
    inside: new Uint8Array(width * height),
  }
}
