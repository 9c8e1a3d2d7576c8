import type { ArtFile, Box } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { gained, toneExponent } from '../optics/print.ts'
import type { Assigned } from '../roles/role.ts'
import type { AreaNotes } from './area-notes.ts'
import { layArea, readsOf } from './area-reads.ts'
import { AreaPainter } from './areas.ts'
import { averageOver } from './average.ts'
import type { Band } from './band.ts'
import { areaFindings, panelFindings } from './build-findings.ts'
import { type CoverageRows, coverageRows, type StripOptions, unionRows } from './coverage.ts'
import type { Need } from './covered.ts'
import { type Grid, gridOf, under } from './grid.ts'
import { inkRows, type Press } from './inks.ts'
import type { CoverageShelf } from './kept-coverage.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import { mapHead } from './map-head.ts'
import { mottlePlane } from './mottle.ts'
import { type OpenArea, openFields, type PictureStore } from './pictures.ts'
import { type MapPlan, planMap } from './plan.ts'
import type { AreaSource, MadeSource, Plate, Source } from './plates.ts'
import type { MapSettings } from './settings.ts'
import { pressFindings } from './spot-color.ts'

export interface MapOptions extends MapSettings {
  readonly assigned: readonly Assigned[]
  readonly press: Press
}

/** A map with what it was built from, for whoever edits it. */
export interface WholeMap {
  readonly map: MaterialMap
  readonly findings: readonly Finding[]
  readonly grid: Grid
  readonly plan: MapPlan
  readonly areas: readonly OpenArea[]
  readonly painter: AreaPainter
  /** What was said of the separation into inks. */
  readonly inkFindings: readonly Finding[]
}

/**
 * Builds the material map of a piece of art. Works in strips from top to bottom: beside the map itself, memory holds
 * one strip of every plate and some decoded planes (at most about 0.5 GB). Art is stretched over the finished size;
 * coverages are means over a map pixel, gratings means of the structure tensor; where the map is finer than the art
 * it takes the nearest document pixel.
 * Throws BadInput for effect parameters out of range, an unknown effect or a map too large; Cancelled when told to.
 * @param shelf keeps the coverages of areas that pass by
 * @param pictures of effects that were read before, by source; takes those that are read now
 */
export async function buildMap(
  file: ArtFile,
  options: MapOptions,
  task?: Task,
  shelf: CoverageShelf | null = null,
  pictures: PictureStore = new Map(),
): Promise<WholeMap> {
  const { art } = file
  const grid = gridOf(art, options.panel)
  const quiet: Task = task?.signal ? { signal: task.signal } : {}
  task?.progress?.(0, 'reading the roles')
  const plan = await planMap(file, options.assigned, options, quiet)
  const pictureFindings: Finding[] = []
  const areas = await openFields(file, grid, plan.areas, pictureFindings, quiet, { pictures })
  const inkFindings: Finding[] = []
  const build = new Build(file, grid, plan, areas, options.press, inkFindings, quiet, shelf)
  const bandRows = build.bandRows
  try {
    for (let from = 0; from < grid.height; from += bandRows) {
      checkCancelled(task)
      task?.progress?.(from / grid.height, 'building the material map')
      await build.rows(from, Math.min(grid.height, from + bandRows))
    }
  } finally {
    build.close()
  }
  shelf?.arrived()
  const { painter } = build
  const findings = mapFindings({
    file,
    options,
    plan,
    pictureFindings,
    inkFindings,
    areas,
    notes: painter.notes,
    grid,
  })
  task?.progress?.(1, 'building the material map')
  const { channels, planes, viewSets } = painter.planes()
  const head = mapHead(file, grid, plan, options, { gratings: channels, viewSets, grooves: painter.grooves })
  const map = { ...head, planes: new Map([...build.planes, ...planes]) }
  return { map, findings, grid, plan, areas, painter, inkFindings }
}

/** Everything that was found on the way, in its order. */
export function mapFindings(found: {
  readonly file: ArtFile
  readonly options: MapOptions
  readonly plan: MapPlan
  readonly pictureFindings: readonly Finding[]
  readonly inkFindings: readonly Finding[]
  readonly areas: readonly OpenArea[]
  readonly notes: AreaNotes
  readonly grid: Grid
}): readonly Finding[] {
  const { file, options, plan, areas, grid } = found
  return [
    ...panelFindings(file.art, options.panel),
    ...plan.findings,
    ...pressFindings(options.press),
    ...found.pictureFindings,
    ...found.inkFindings,
    ...areaFindings(areas, found.notes, grid),
  ]
}

/** Floats of strips in memory at once. */
const stripBudget = 24e6
const keepBudget = 256 * 2 ** 20

class Build {
  readonly painter: AreaPainter
  readonly bandRows: number
  readonly planes = new Map<string, MapPlane>()
  readonly #band: Band
  readonly #file: ArtFile
  readonly #grid: Grid
  readonly #inks: ReturnType<typeof inkRows>
  readonly #areas: readonly {
    readonly area: OpenArea
    readonly own: CoverageRows | null
    readonly mask: CoverageRows | null
  }[]
  readonly #plates: readonly {
    readonly name: string
    readonly sources: readonly CoverageRows[]
    readonly tone: (mean: number) => number
  }[]
  readonly #process: readonly { readonly name: string; readonly source: CoverageRows }[]

  constructor(
    file: ArtFile,
    grid: Grid,
    plan: MapPlan,
    areas: readonly OpenArea[],
    press: Press,
    findings: Finding[],
    task: Task,
    shelf: CoverageShelf | null,
  ) {
    this.#file = file
    this.#grid = grid
    this.painter = new AreaPainter(file, grid, areas)
    this.#band = this.painter.band()
    const plates = platesWithPlanes(plan)
    const readers = plan.areas.length + plates.reduce((n, { plate }) => n + plate.sources.length, 0) + 2
    const rows = Math.max(8, Math.floor(stripBudget / (file.art.width * (readers * 6 + 8))))
    this.bandRows = Math.max(1, Math.floor((rows * grid.height) / file.art.height))
    const strips: StripOptions = { rows, keep: keepBudget / readers, task }
    const read = (source: Parameters<typeof coverageRows>[1], need: Need = 'amount') =>
      coverageRows(file, source, strips, need)
    this.#inks = inkRows(file, { layers: plan.overprint, knocking: plan.knocking }, press, strips, findings)
    const followed = (source: AreaSource | null, need: Need) =>
      source && (shelf?.following(source, need, read(source, need)) ?? read(source, need))
    this.#areas = areas.map(area => {
      const { own, mask, need } = readsOf(area)
      return { area, own: followed(own, need), mask: followed(mask, 'amount') }
    })
    this.#plates = plates.map(({ name, plate, tone }) => ({
      name,
      tone,
      sources: plate.sources.map(source => read(source)),
    }))
    this.#process = plan.process.map(({ ink, channel }) => ({
      name: ink,
      source: read({ kind: 'channel', channel }),
    }))
    for (const name of ['metal', 'C', 'M', 'Y', 'K', ...plates.map(plate => plate.name)])
      this.planes.set(name, {
        layout: 'full',
        components: 1,
        data: new Uint8Array(grid.width * grid.height),
      })
    if (plan.metal === null) this.#bytes('metal').fill(255)
    if (plan.whites.some(white => white.mottle > 0))
      this.planes.set('mottle', { layout: 'full', components: 1, data: mottlePlane(grid) })
    const ids =
      plan.areas.length > 255
        ? new Uint16Array(grid.width * grid.height)
        : new Uint8Array(grid.width * grid.height)
    this.planes.set('area', { layout: 'full', components: 1, data: ids })
  }

  /** Builds the map rows from..to. */
  async rows(from: number, to: number): Promise<void> {
    const [top, bottom] = under(this.#grid.rows, from, to)
    const inks = await this.#inks.over(top, bottom)
    if (inks)
      for (const [c, name] of ['C', 'M', 'Y', 'K'].entries())
        this.#write(name, inks.box, from, to, i => inks.read(c, i))
    const { width } = this.#file.art
    for (const { name, sources, tone } of this.#plates) {
      const { box, data } = await unionRows(sources, width, top, bottom)
      this.#write(name, box, from, to, i => data[i]!, tone)
    }
    for (const { name, source } of this.#process) {
      const part = await source.over(top, bottom)
      if (part) this.#write(name, part.box, from, to, i => part.data[i]!)
    }
    await this.#gratings(from, to, top, bottom)
  }

  async #gratings(from: number, to: number, top: number, bottom: number): Promise<void> {
    if (this.#areas.length === 0) return
    const band = this.#band.open({ left: 0, top: from, right: this.#grid.width, bottom: to })
    for (const { area, own, mask } of this.#areas) {
      const amount = own && (await own.over(top, bottom))
      const limit = mask && (await mask.over(top, bottom))
      if ((own && !amount) || (mask && !limit)) continue
      layArea(this.painter, area, amount, limit, band)
    }
    this.painter.finish(band, this.planes.get('area')!.data as Uint8Array | Uint16Array)
  }

  /** Stores means; where a plane already has ink (a channel over artwork), both print. */
  #write(
    name: string,
    box: Box,
    from: number,
    to: number,
    read: (i: number) => number,
    tone: (mean: number) => number = asDrawn,
  ): void {
    const data = this.#bytes(name)
    averageOver(this.#grid, box, from, to, read, (x, y, mean) => {
      const at = y * this.#grid.width + x
      const there = data[at]! / 255
      data[at] = Math.round(255 * (1 - (1 - there) * (1 - tone(Math.min(1, mean)))))
    })
  }

  #bytes(name: string): Uint8Array {
    return this.planes.get(name)!.data as Uint8Array
  }

  close(): void {
    this.#inks.close()
  }
}

/** The plates that have a plane of their own, under its name. */
export function platesWithPlanes(plan: MapPlan): readonly PlaneOfPlate[] {
  const plane = (name: string, plate: PlaneOfPlate['plate']): PlaneOfPlate => ({ name, plate, tone: asDrawn })
  return [
    ...(plan.metal ? [plane('metal', plan.metal)] : []),
    ...plan.whites.map((plate, i) => ({ ...plane(`white${i + 1}`, plate), tone: gainOf(plate.toneGain) })),
    ...plan.spots.map((plate, i) => plane(`spot${i + 1}`, plate)),
    ...(plan.varnish ? [plane('varnish', plan.varnish)] : []),
  ]
}

export interface PlaneOfPlate {
  readonly name: string
  readonly plate: Plate<Source | MadeSource>
  /** Coverage on the board of a coverage on the plate. */
  readonly tone: (mean: number) => number
}

const asDrawn = (mean: number): number => mean

/** The dots of white grow as those of an ink do. */
function gainOf(gain: number): (mean: number) => number {
  if (gain === 0) return asDrawn
  const exponent = toneExponent(gain)
  return mean => gained(mean, exponent)
}
