import type { ArtFile } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import type { AreaNotes } from './area-notes.ts'
import { footprint, layArea, readsOf } from './area-reads.ts'
import { AreaPainter } from './areas.ts'
import { buildMap, type MapOptions, mapFindings, platesWithPlanes } from './build.ts'
import { mergeTiles } from './change.ts'
import type { Coverage } from './covered.ts'
import { designKey, sameDesign } from './design-key.ts'
import { type Dirty, dirtySince, nextEdition } from './edition.ts'
import { coverageAt, type FirstLook, lookLevel, paintLook, tilesAt } from './first-look.ts'
import { coarser, type Grid, gridOf, onItself, under } from './grid.ts'
import { CoverageShelf, type Kept, sourceKey } from './kept-coverage.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import { type MapHead, mapHead } from './map-head.ts'
import { minifyHolography, pyramid, tilesOver } from './mip.ts'
import { type OpenArea, openFields, type PictureStore } from './pictures.ts'
import { type MapPlan, planMap } from './plan.ts'
import { gratingChannel, TileGrid } from './tiles.ts'

/** An area as it lies on the map. */
interface Laid {
  readonly area: OpenArea
  /** Equal for areas that put the same on every pixel. */
  readonly key: readonly unknown[]
  /** Tiles that it can reach. */
  readonly tiles: readonly number[]
}

/** The coverages of an area that are read to lay it. */
interface StandsOn {
  readonly own: Kept | null
  readonly mask: Kept | null
}

/**
 * A map with its coarser levels that follows a job: where only holography or numbers of whole plates change, it
 * paints the tiles of these areas anew and nothing else. The planes are those of a map built from nothing, byte by
 * byte; blocks of tiles may lie in another order.
 */
export class LiveMap {
  levels: readonly MaterialMap[]
  findings: readonly Finding[]
  readonly #file: ArtFile
  readonly #base: readonly unknown[]
  readonly #grid: Grid
  readonly #shelf: CoverageShelf
  readonly #pictures: PictureStore
  readonly #inkFindings: readonly Finding[]
  #notes: AreaNotes
  #laid: readonly Laid[]
  /** Areas as the last first look had them, so that they are not opened twice. */
  #looked: readonly Laid[] = []
  /** Coverages as coarser levels have them. */
  readonly #coarser = new WeakMap<Kept, Map<number, Coverage>>()

  private constructor(file: ArtFile, whole: Awaited<ReturnType<typeof buildMap>>, more: Opened) {
    this.#file = file
    this.#grid = whole.grid
    this.#inkFindings = whole.inkFindings
    this.#notes = whole.painter.notes
    this.findings = whole.findings
    this.levels = more.levels
    this.#base = more.base
    this.#shelf = more.shelf
    this.#pictures = more.pictures
    this.#laid = more.laid
  }

  /** Builds everything, or the finest level alone. Throws as `buildMap` does. */
  static async build(
    file: ArtFile,
    options: MapOptions,
    task?: Task,
    which: 'levels' | 'finest' = 'levels',
  ): Promise<LiveMap> {
    const shelf = new CoverageShelf(file, gridOf(file.art, options.panel))
    const pictures: PictureStore = new Map()
    const whole = await buildMap(file, options, task, shelf, pictures)
    const levels = which === 'levels' ? pyramid(whole.map) : [whole.map]
    const { grid, painter, areas } = whole
    const laid = await layOut(areas, options, painter, shelf, grid, task)
    const base = baseOf(file, options, whole.plan)
    return new LiveMap(file, whole, { levels, base, shelf, pictures, laid })
  }

  /**
   * Follows the job; says false, and leaves all as it was, where the whole map has to be built anew. Tells of what
   * changed by `dirtySince`. Can be told to stop until it has painted. Throws as `buildMap` does.
   */
  async edit(options: MapOptions, task?: Task): Promise<boolean> {
    const file = this.#file
    const grid = this.#grid
    const edit = await this.#prepare(options, task)
    if (edit === null) return false
    const { plan, areas, pictureFindings, painter, laid, moved, tiles, kept } = edit
    const fresh = this.#paint(painter, laid, tiles, kept, task)
    this.#looked = []
    this.#notes = this.#notes.replaced(painter.notes, tiles, moved)
    const gratings = Array.from({ length: this.#notes.slots }, (_, i) => gratingChannel(i + 1))
    const { grooves, viewSets } = painter
    this.#merge(mapHead(file, grid, plan, options, { gratings, grooves, viewSets }), fresh, tiles)
    this.#laid = laid
    this.#shelf.retain(sourcesOf(laid))
    this.findings = mapFindings({
      file,
      options,
      plan,
      pictureFindings,
      inkFindings: this.#inkFindings,
      areas,
      notes: this.#notes,
      grid,
    })
    return true
  }

  /**
   * What an edit is going to show, where it takes long enough to be worth it and head and tables stay what they are;
   * else null. The map is left as it is. Throws as `buildMap` does.
   * @param held levels that the look is laid over; an earlier edition of these has more to be painted
   */
  async firstLook(
    options: MapOptions,
    task?: Task,
    held: readonly MaterialMap[] = this.levels,
  ): Promise<FirstLook | null> {
    const since = held === this.levels ? [] : dirtySince(held, this.levels)
    const edit = since && (await this.#prepare(options, task, [...(since[0]?.values() ?? [])].flat()))
    if (edit === null) return null
    const { areas, painter, laid, tiles, kept } = edit
    const level = lookLevel(this.levels, tiles)
    const { gratings, grooves, viewSets = [] } = held[0]!
    if (
      level === 0 ||
      JSON.stringify([painter.grooves, painter.viewSets]) !== JSON.stringify([grooves, viewSets])
    )
      return null
    this.#looked = laid
    this.#shelf.retain(sourcesOf([...this.#laid, ...laid]))
    const grid = coarser(this.#grid, 2 ** level)
    const own = onItself(grid)
    const standing = laid.flatMap(one => {
      const coverage = kept.get(one)
      if (!coverage || !isThere(coverage)) return []
      const at = (one: Kept) => this.#coarse(one, level, grid)
      return [
        { area: one.area, own: coverage.own && at(coverage.own), mask: coverage.mask && at(coverage.mask) },
      ]
    })
    const quick = new AreaPainter(this.#file, own, areas)
    const planes = paintLook(quick, own, standing, tilesAt(this.levels, tiles, level), task)
    return quick.notes.slots > gratings.length ? null : { level, reached: Int32Array.from(tiles), planes }
  }

  #coarse(kept: Kept, level: number, grid: Grid): Coverage {
    const known = this.#coarser.get(kept) ?? new Map<number, Coverage>()
    this.#coarser.set(kept, known)
    const found = known.get(level) ?? coverageAt(kept.coverage(0, this.#file.art.height)!, grid)
    known.set(level, found)
    return found
  }

  /**
   * All that an edit is painted from; null where the whole map has to be built anew.
   * @param more tiles that are painted too
   */
  async #prepare(options: MapOptions, task?: Task, more: readonly number[] = []) {
    const quiet: Task = task?.signal ? { signal: task.signal } : {}
    const file = this.#file
    const grid = this.#grid
    const plan = await planMap(file, options.assigned, options, quiet)
    if (!sameDesign(this.#base, baseOf(file, options, plan))) return null
    const known = [...this.#laid, ...this.#looked]
    const pictureFindings: Finding[] = []
    const areas = await openFields(file, grid, plan.areas, pictureFindings, quiet, {
      pictures: this.#pictures,
      openArea: area => {
        const key = designKey(area, options)
        const old = known.find(one => one.area.id === area.id && sameDesign(designOf(one.key), key))
        return old && { ...area, field: old.area.field }
      },
    })
    const painter = new AreaPainter(file, grid, areas)
    const laid = await layOut(areas, options, painter, this.#shelf, grid, quiet, known)
    const moved = movedAreas(this.#laid, laid)
    const tiles = rising([...touched([...this.#laid, ...laid], moved), ...more])
    const kept = await this.#coverages(laid, tiles, quiet)
    checkCancelled(task)
    return { plan, areas, pictureFindings, painter, laid, moved, tiles, kept }
  }

  /** The coverages of the areas that reach one of these tiles. */
  async #coverages(
    laid: readonly Laid[],
    tiles: readonly number[],
    task: Task,
  ): Promise<ReadonlyMap<Laid, StandsOn>> {
    const wanted = new Set(tiles)
    const out = new Map<Laid, StandsOn>()
    for (const one of laid) {
      if (!one.tiles.some(tile => wanted.has(tile))) continue
      const { own, mask, need } = readsOf(one.area)
      out.set(one, {
        own: own && (await this.#shelf.get(own, need, task)),
        mask: mask && (await this.#shelf.get(mask, 'amount', task)),
      })
    }
    return out
  }

  #paint(
    painter: AreaPainter,
    laid: readonly Laid[],
    tiles: readonly number[],
    kept: ReadonlyMap<Laid, StandsOn>,
    task?: Task,
  ): MaterialMap['planes'] {
    const { width, height } = this.#grid
    const grid = new TileGrid(width, height)
    const there = this.levels[0]!.planes.get('area')!
    const ids =
      there.data instanceof Uint8Array ? new Uint8Array(width * height) : new Uint16Array(width * height)
    const band = painter.band()
    const reach = new Map([...kept.keys()].map(one => [one, new Set(one.tiles)]))
    // Each row of tiles has its document rows of what is laid there.
    let rows = { top: -1, open: new Map<Kept, Coverage | null>() }
    for (const [first, run] of grid.runs(tiles)) {
      checkCancelled(task)
      const box = grid.box(first, run)
      const [top, bottom] = under(this.#grid.rows, box.top, box.bottom)
      if (rows.top !== top) rows = { top, open: new Map() }
      const { open } = rows
      const opened = (one: Kept | null): Coverage | null => {
        if (one === null) return null
        const found = open.has(one) ? open.get(one)! : one.coverage(top, bottom)
        open.set(one, found)
        return found
      }
      band.open(box)
      for (const one of laid) {
        const standing = kept.get(one)
        if (!standing || !isThere(standing) || !anyOf(reach.get(one)!, first, run)) continue
        const [own, mask] = [opened(standing.own), opened(standing.mask)]
        if ((standing.own && !own) || (standing.mask && !mask)) continue
        layArea(painter, one.area, own, mask, band)
      }
      painter.finish(band, ids)
    }
    const area: MapPlane = { layout: 'full', components: 1, data: ids }
    return new Map([['area', area], ...painter.planes().planes])
  }

  /** Takes the painted tiles in, level by level as far as they differ. */
  #merge(head: MapHead, painted: MaterialMap['planes'], tiles: readonly number[]): void {
    const before = this.levels
    const levels: MaterialMap[] = []
    const dirty: ReadonlyMap<string, readonly number[]>[] = []
    let fresh = painted
    let reached = tiles
    let wanted: ReadonlySet<string> | null = null
    for (const level of before) {
      const { width, height, pixelsPerMm } = level
      const merged = mergeTiles(level, { ...head, width, height, pixelsPerMm }, fresh, reached, wanted)
      levels.push(merged.map)
      dirty.push(merged.dirty)
      if (levels.length === before.length) break
      const differ = new Set([...merged.dirty.values()].flat())
      reached = tilesOver(level, [...differ])
      wanted = new Set(merged.dirty.keys())
      fresh = new Map(minifyHolography(merged.map, reached, wanted))
    }
    nextEdition(before, levels, dirty satisfies Dirty)
    this.levels = levels
  }
}

interface Opened {
  readonly levels: readonly MaterialMap[]
  readonly base: readonly unknown[]
  readonly shelf: CoverageShelf
  readonly pictures: PictureStore
  readonly laid: readonly Laid[]
}

/** The areas with their keys and tiles; coverages that they stand on are read where they are not kept. */
async function layOut(
  areas: readonly OpenArea[],
  options: MapOptions,
  painter: AreaPainter,
  shelf: CoverageShelf,
  grid: Grid,
  task?: Task,
  known: readonly Laid[] = [],
): Promise<readonly Laid[]> {
  const out: Laid[] = []
  for (const area of areas) {
    const key = [
      painter.grooveOf(area),
      painter.viewSetOf(area),
      painter.viewBytes,
      ...designKey(area, options),
    ]
    const old = known.find(one => one.area.id === area.id && sameDesign(one.key, key))
    if (old) {
      out.push({ area, key, tiles: old.tiles })
      continue
    }
    const { own, mask, need } = readsOf(area)
    const limit = mask ? await shelf.get(mask, 'amount', task) : own && (await shelf.get(own, need, task))
    out.push({ area, key, tiles: footprint(area, limit, grid) })
  }
  return out
}

/** Whether an area is anywhere at all. */
const isThere = ({ own, mask }: StandsOn): boolean =>
  (own === null || own.isThere) && (mask === null || mask.isThere)

const sourcesOf = (laid: readonly Laid[]) =>
  laid.flatMap(({ area }) => [area.source, ...(area.mask ? [area.mask] : [])])

/** The part of a key that is known before the areas are put in order. */
const designOf = (key: readonly unknown[]): readonly unknown[] => key.slice(3)

/** Ids of areas that are new, gone, or put something else on the map. */
function movedAreas(before: readonly Laid[], after: readonly Laid[]): ReadonlySet<number> {
  const moved = new Set<number>()
  const all = (list: readonly Laid[]) => new Map(list.map(one => [one.area.id, one]))
  const [old, now] = [all(before), all(after)]
  for (const id of new Set([...old.keys(), ...now.keys()])) {
    const [a, b] = [old.get(id), now.get(id)]
    if (!a || !b || !sameDesign(a.key, b.key)) moved.add(id)
  }
  return moved
}

/** Tiles that these areas reach, before or after. */
const touched = (laid: readonly Laid[], moved: ReadonlySet<number>): readonly number[] =>
  laid.flatMap(one => (moved.has(one.area.id) ? one.tiles : []))

/** Each once, in rising order. */
const rising = (tiles: readonly number[]): readonly number[] => [...new Set(tiles)].sort((a, b) => a - b)

function anyOf(tiles: ReadonlySet<number>, first: number, run: number): boolean {
  for (let tile = first; tile < first + run; tile++) if (tiles.has(tile)) return true
  return false
}

/** What all planes but those of holography are made of. */
function baseOf(file: ArtFile, options: MapOptions, plan: MapPlan): readonly unknown[] {
  const inks = new Set(['RGB', 'Indexed', 'Lab']).has(file.art.colorMode) && plan.overprint.length > 0
  return [
    JSON.stringify([
      options.panel,
      plan.overprint.map(layer => layer.id),
      plan.knocking,
      plan.process.map(({ ink, channel }) => [ink, channel.id]),
      platesWithPlanes(plan).map(({ name, plate }) => [name, plate.sources.map(sourceKey)]),
      plan.whites.map(white => white.toneGain),
      plan.whites.some(white => white.mottle > 0),
      plan.areas.length > 255,
    ]),
    // Ink numbers of the art are printed as they are; other colours are separated for the press.
    inks ? options.press.profile : null,
  ]
}
