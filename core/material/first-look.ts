import type { Task } from '../base/task.ts'
import { checkCancelled } from '../base/task.ts'
import { layArea } from './area-reads.ts'
import type { AreaPainter } from './areas.ts'
import { averageOver } from './average.ts'
import type { Coverage } from './covered.ts'
import { type Grid, over } from './grid.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import { tilesOver } from './mip.ts'
import type { OpenArea } from './pictures.ts'
import { TileGrid, tileSide } from './tiles.ts'

/**
 * What an edit is going to show, painted at one coarser level: soon there, and near to what then takes its place. It is
 * for the eye alone; no number comes of it.
 */
export interface FirstLook {
  /** Which level of the map it is; the finest is 0. */
  readonly level: number
  /** Numbers of the finest level's tiles that the edit reaches, rising. */
  readonly reached: Int32Array
  /** Planes of holography of that level, of the tiles over those reached and of no other. */
  readonly planes: ReadonlyMap<string, MapPlane>
}

/** An area with what it stands on, as the map's document has it. */
export interface Standing {
  readonly area: OpenArea
  readonly own: Coverage | null
  readonly mask: Coverage | null
}

/** As many pixels are painted with their coarser levels before a hand notices: below it there is no need of a first look. */
const exactPixels = 150_000
/** As many pixels a first look may have. */
const lookPixels = 300_000

/** The finest level at which these tiles of the finest are painted soon; 0 where the map itself is. */
export function lookLevel(levels: readonly MaterialMap[], reached: readonly number[]): number {
  const pixels = (tiles: readonly number[]) => tiles.length * tileSide * tileSide
  if (pixels(reached) <= exactPixels) return 0
  let tiles = reached
  for (let level = 0; level < levels.length - 1; level++) {
    if (level > 0 && pixels(tiles) <= lookPixels) return level
    tiles = tilesOver(levels[level]!, tiles)
  }
  return levels.length - 1
}

/** The tiles of a level over tiles of the finest. */
export function tilesAt(
  levels: readonly MaterialMap[],
  reached: readonly number[],
  level: number,
): readonly number[] {
  return levels.slice(0, level).reduce<readonly number[]>((tiles, map) => tilesOver(map, tiles), reached)
}

/**
 * Paints tiles of a coarser map, a grating taken at the middle of each of its pixels.
 * @param painter of that map: its document has the map's own pixels
 * @param areas   bottom first, with coverages of that document
 */
export function paintLook(
  painter: AreaPainter,
  { width, height }: Grid,
  areas: readonly Standing[],
  tiles: readonly number[],
  task?: Task,
): ReadonlyMap<string, MapPlane> {
  const grid = new TileGrid(width, height)
  const ids = new Uint16Array(width * height)
  const band = painter.band()
  for (const [first, run] of grid.runs(tiles)) {
    checkCancelled(task)
    band.open(grid.box(first, run))
    for (const { area, own, mask } of areas) layArea(painter, area, own, mask, band)
    painter.finish(band, ids)
  }
  return new Map(painter.planes().planes)
}

/** A coverage of document pixels as that of a document with a map's own pixels; colours are means of what is painted. */
export function coverageAt({ box, data, surface }: Coverage, grid: Grid): Coverage {
  const [left, right] = over(grid.columns, box.left, box.right)
  const [top, bottom] = over(grid.rows, box.top, box.bottom)
  const width = right - left
  const mean = (read: (i: number) => number): Float32Array => {
    const out = new Float32Array(width * (bottom - top))
    averageOver(grid, box, top, bottom, read, (x, y, value) => {
      out[(y - top) * width + x - left] = Math.min(1, value)
    })
    return out
  }
  const at = { left, top, right, bottom }
  if (surface === null) return { box: at, data: mean(i => data[i]!), surface: null }
  const alpha = mean(i => surface.alpha[i]!)
  const planes = surface.planes.map(plane =>
    mean(i => plane[i]! * surface.alpha[i]!).map((value, i) => (alpha[i]! > 0 ? value / alpha[i]! : 0)),
  )
  return { box: at, data: mean(i => data[i]!), surface: { box: at, planes, alpha } }
}
