import type { ArtFile, Box } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import type { SpotInk } from '../optics/ink.ts'
import { gained, toneExponent } from '../optics/print.ts'
import type { Assigned } from '../roles/role.ts'
import { AreaPainter } from './areas.ts'
import { averageOver } from './average.ts'
import { areaFindings, panelFindings } from './build-findings.ts'
import { type CoverageRows, coverageRows, type StripOptions, unionRows } from './coverage.ts'
import { type Grid, gridOf, under } from './grid.ts'
import { inkRows, type Press } from './inks.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import { mottlePlane } from './mottle.ts'
import { type OpenArea, openFields } from './pictures.ts'
import { type MapPlan, planMap } from './plan.ts'
import type { Plate } from './plates.ts'
import type { MapSettings } from './settings.ts'
import { pressFindings, spotColor, spotInk } from './spot-color.ts'

export interface MapOptions extends MapSettings {
  readonly assigned: readonly Assigned[]
  readonly press: Press
}

/**
 * Builds the material map of a piece of art. Works in strips from top to bottom: beside the map itself, memory holds
 * one strip of every plate and some decoded planes (at most about 0.5 GB). Art is stretched over the finished size;
 * coverages are means over a map pixel, gratings means of the structure tensor; where the map is finer than the art
 * it takes the nearest document pixel.
 * Throws BadInput for effect parameters out of range, an unknown effect or a map too large; Cancelled when told to.
 */
export async function buildMap(
  file: ArtFile,
  options: MapOptions,
  task?: Task,
): Promise<{ readonly map: MaterialMap; readonly findings: readonly Finding[] }> {
  const { art } = file
  const grid = gridOf(art, options.panel)
  const findings: Finding[] = panelFindings(art, options.panel)
  const quiet: Task = task?.signal ? { signal: task.signal } : {}
  task?.progress?.(0, 'reading the roles')
  const plan = await planMap(file, options.assigned, options, quiet)
  findings.push(...plan.findings, ...pressFindings(options.press))
  const areas = await openFields(file, grid, plan.areas, findings, quiet)
  const build = new Build(file, grid, plan, areas, options.press, findings, quiet)
  const bandRows = build.bandRows
  for (let from = 0; from < grid.height; from += bandRows) {
    checkCancelled(task)
    task?.progress?.(from / grid.height, 'building the material map')
    await build.rows(from, Math.min(grid.height, from + bandRows))
  }
  build.close()
  findings.push(
    ...areaFindings(areas, build.painter, (grid.widthMm / grid.width) * (grid.heightMm / grid.height)),
  )
  task?.progress?.(1, 'building the material map')
  return {
    map: build.map(spotInk(spotColor(file, options.press), options.spots ?? []), options.press),
    findings,
  }
}

/** Floats of strips in memory at once. */
const stripBudget = 24e6
const keepBudget = 256 * 2 ** 20

class Build {
  readonly painter: AreaPainter
  readonly bandRows: number
  readonly #file: ArtFile
  readonly #grid: Grid
  readonly #plan: MapPlan
  readonly #planes = new Map<string, MapPlane>()
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
  ) {
    this.#file = file
    this.#grid = grid
    this.#plan = plan
    this.painter = new AreaPainter(file, grid, areas)
    const plates = platesWithPlanes(plan)
    const readers = plan.areas.length + plates.reduce((n, { plate }) => n + plate.sources.length, 0) + 2
    const rows = Math.max(8, Math.floor(stripBudget / (file.art.width * (readers * 6 + 8))))
    this.bandRows = Math.max(1, Math.floor((rows * grid.height) / file.art.height))
    const strips: StripOptions = { rows, keep: keepBudget / readers, task }
    const read = (source: Parameters<typeof coverageRows>[1]) => coverageRows(file, source, strips)
    this.#inks = inkRows(file, plan.overprint, press, strips, findings)
    this.#areas = areas.map(area => {
      // An outline is where it is drawn, whatever its views would show around it.
      const everywhere =
        area.field.kind === 'views' && area.field.within === 'all' && area.source.kind !== 'outline'
      return { area, own: everywhere ? null : read(area.source), mask: area.mask && read(area.mask) }
    })
    this.#plates = plates.map(({ name, plate, tone }) => ({ name, tone, sources: plate.sources.map(read) }))
    this.#process = plan.process.map(({ ink, channel }) => ({
      name: ink,
      source: read({ kind: 'channel', channel }),
    }))
    for (const name of ['metal', 'C', 'M', 'Y', 'K', ...plates.map(plate => plate.name)])
      this.#planes.set(name, {
        layout: 'full',
        components: 1,
        data: new Uint8Array(grid.width * grid.height),
      })
    if (plan.metal === null) this.#bytes('metal').fill(255)
    if (plan.whites.some(white => white.mottle > 0))
      this.#planes.set('mottle', { layout: 'full', components: 1, data: mottlePlane(grid) })
    const ids =
      plan.areas.length > 255
        ? new Uint16Array(grid.width * grid.height)
        : new Uint8Array(grid.width * grid.height)
    this.#planes.set('area', { layout: 'full', components: 1, data: ids })
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
    const band = this.painter.band(from, to)
    for (const { area, own, mask } of this.#areas) {
      const amount = own && (await own.over(top, bottom))
      const limit = mask && (await mask.over(top, bottom))
      if ((own && !amount) || (mask && !limit)) continue
      const { field } = area
      if (field.kind === 'views') this.painter.layViews({ ...area, field }, limit ?? amount, band)
      else if (amount) this.painter.lay({ ...area, field }, amount, limit, band)
    }
    this.painter.finish(band, this.#planes.get('area')!.data as Uint8Array | Uint16Array)
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
    return this.#planes.get(name)!.data as Uint8Array
  }

  close(): void {
    this.#inks.close()
  }

  map(inkOf: (plate: Plate) => SpotInk, { condition }: Press): MaterialMap {
    const { channels, planes, viewSets } = this.painter.planes()
    for (const [name, plane] of planes) this.#planes.set(name, plane)
    const { width, height, widthMm, heightMm } = this.#grid
    return {
      width,
      height,
      pixelsPerMm: width / widthMm,
      widthMm,
      heightMm,
      planes: this.#planes,
      whites: this.#plan.whites.map(({ name, opacity, hits, screen, mottle, assumed }, i) => ({
        name,
        coverage: `white${i + 1}`,
        opacity,
        hits,
        screen,
        mottle,
        assumed,
      })),
      spots: this.#plan.spots.map((plate, i) => ({
        name: plate.name,
        coverage: `spot${i + 1}`,
        ...inkOf(plate),
      })),
      print: condition ?? null,
      varnish: this.#plan.varnish ? 'varnish' : null,
      gratings: channels,
      grooves: this.painter.grooves,
      ...(viewSets.length > 0 ? { viewSets } : {}),
      areas: this.#plan.areas.map(({ id, name, target, effect }) => ({
        id,
        name,
        layerId: target.id,
        effect,
      })),
    }
  }
}

/** The plates that have a plane of their own, under its name. */
function platesWithPlanes(plan: MapPlan): readonly PlaneOfPlate[] {
  const plane = (name: string, plate: Plate): PlaneOfPlate => ({ name, plate, tone: asDrawn })
  return [
    ...(plan.metal ? [plane('metal', plan.metal)] : []),
    ...plan.whites.map((plate, i) => ({ ...plane(`white${i + 1}`, plate), tone: gainOf(plate.toneGain) })),
    ...plan.spots.map((plate, i) => plane(`spot${i + 1}`, plate)),
    ...(plan.varnish ? [plane('varnish', plan.varnish)] : []),
  ]
}

interface PlaneOfPlate {
  readonly name: string
  readonly plate: Plate
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
