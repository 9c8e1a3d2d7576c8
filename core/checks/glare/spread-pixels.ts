import { chance } from '../../effects/chance.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { MapPixels } from '../sweep/map-pixels.ts'

/** A pixel that stands for others near it. */
export interface SpreadPixel {
  readonly column: number
  readonly row: number
  /** Pixels that it stands for, itself too. */
  readonly count: number
}

/**
 * Some pixels of a set, spread evenly over it: one of each square of a raster, chosen by chance but always the same, so
 * that no pattern of the art falls in step with it. The counts sum to the size of the set.
 * @param most of them, ≥ 1; a set that is no larger is taken whole
 * @param draw another whole number makes another choice
 */
export function spreadPixels(
  { width }: Pick<MaterialMap, 'width'>,
  pixels: MapPixels,
  most: number,
  draw = 0,
): readonly SpreadPixel[] {
  if (pixels.length <= most) return Array.from(pixels, pixel => spreadOf(pixel, width, 1))
  for (let side = Math.ceil(Math.sqrt(pixels.length / most)); ; side = Math.ceil(1.25 * side)) {
    const squares = chosen(pixels, width, side, most, draw)
    if (squares !== null) return squares
  }
}

/** One pixel of each square with pixels of the set; null where there are more squares than asked for. */
function chosen(
  pixels: MapPixels,
  width: number,
  side: number,
  most: number,
  draw: number,
): readonly SpreadPixel[] | null {
  const across = Math.ceil(width / side)
  const squares = new Map<number, { pixel: number; rank: number; count: number }>()
  for (const pixel of pixels) {
    const column = pixel % width
    const row = (pixel - column) / width
    const square = Math.floor(row / side) * across + Math.floor(column / side)
    const rank = chance(column, row, draw, 0)
    const one = squares.get(square)
    if (one === undefined) {
      if (squares.size === most) return null
      squares.set(square, { pixel, rank, count: 1 })
      continue
    }
    one.count++
    if (rank >= one.rank) continue
    one.rank = rank
    one.pixel = pixel
  }
  return Array.from(squares.values(), ({ pixel, count }) => spreadOf(pixel, width, count))
}

const spreadOf = (pixel: number, width: number, count: number): SpreadPixel => {
  const column = pixel % width
  return { column, row: (pixel - column) / width, count }
}
