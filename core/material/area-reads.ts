import type { AreaPainter } from './areas.ts'
import { type Band, type ViewArea, viewPlace } from './band.ts'
import type { Coverage, Need } from './covered.ts'
import type { Grid } from './grid.ts'
import type { Kept } from './kept-coverage.ts'
import type { OpenArea } from './pictures.ts'
import type { AreaSource } from './plates.ts'
import { TileGrid } from './tiles.ts'

/** What is read of the art to lay an area. */
export interface AreaReads {
  /** Where it is painted; null: it does not matter. */
  readonly own: AreaSource | null
  /** What limits it instead. */
  readonly mask: AreaSource | null
  /** What of its own it looks at. */
  readonly need: Need
}

export function readsOf({ field, source, mask }: OpenArea): AreaReads {
  // An outline is where it is drawn, whatever its views would show around it.
  const everywhere = field.kind === 'views' && field.within === 'all' && source.kind !== 'outline'
  const parts = field.kind === 'beside' ? field.parts : [field]
  const colours = parts.some(part => part.kind === 'grating' && part.readsArt)
  return { own: everywhere ? null : source, mask, need: colours ? 'colour' : mask ? 'alpha' : 'amount' }
}

/** Lays an area on a band. @param amount of its own @param limit its mask's */
export function layArea(
  painter: AreaPainter,
  area: OpenArea,
  amount: Coverage | null,
  limit: Coverage | null,
  band: Band,
): void {
  const { field } = area
  if (field.kind === 'views') painter.layViews({ ...area, field }, limit ?? amount, band)
  else if (amount) painter.lay({ ...area, field }, amount, limit, band)
}

/** Numbers of the map's tiles where an area can be, in rising order. @param limit its mask, else its own coverage */
export function footprint(area: OpenArea, limit: Kept | null, grid: Grid): readonly number[] {
  const tiles = new TileGrid(grid.width, grid.height)
  const { field } = area
  if (field.kind !== 'views') return limit?.tiles ?? []
  const place = viewPlace({ ...area, field } satisfies ViewArea, grid)
  if (place === null) return []
  const inPlace = (number: number) => {
    const box = tiles.box(number)
    return (
      box.left < place.right && place.left < box.right && box.top < place.bottom && place.top < box.bottom
    )
  }
  return (limit?.tiles ?? tiles.all()).filter(inPlace)
}
