import type { ArtFile } from '../art/layer.ts'
import { BadInput } from '../base/finding.ts'
import type { BesideField, GratingField, GratingSample, ViewField } from '../effects/effect.ts'
import { mostViews } from '../effects/view-image.ts'
import { type Groove, grooveIndex } from '../optics/groove.ts'
import { mostGrooves } from '../optics/tables.ts'
import { type Rgb, rgbReader, type Tone, toneOf } from '../roles/tone.ts'
import { averageOver } from './average.ts'
import type { Coverage } from './coverage.ts'
import { type Grid, middle, over } from './grid.ts'
import type { GratingChannel, MapPlane, ViewSet } from './map.ts'
import { emptyMoment, GratingMean, type GratingMoment } from './moments.ts'
import type { OpenArea } from './pictures.ts'
import { GratingTiles, gratingChannel } from './tiles.ts'
import { ViewTiles } from './view-tiles.ts'
import { mostViewSets, viewBytes } from './views.ts'

type GratingArea = OpenArea & { readonly field: GratingField | BesideField }
type ViewArea = OpenArea & { readonly field: ViewField }

/** Gratings that a map holds at one place. */
export const mostGratings = 4
const fields = 7

/** Puts the holography of a map together, map row by map row from the top, areas bottom first. */
export class AreaPainter {
  readonly #grid: Grid
  readonly #tiles: GratingTiles[] = []
  readonly #rgb: ReturnType<typeof rgbReader>
  readonly #mean = new GratingMean()
  readonly #tone: Tone = { lightness: 0, hue: 0, chroma: 0 }
  readonly #colour: Rgb = [0, 0, 0]
  readonly #sample: GratingSample = {
    pitch: 0,
    azimuth: 0,
    grooveDepth: 0,
    share: 0,
    spread: 0,
    jitter: 0,
  }
  readonly #moment = emptyMoment()
  readonly #met: Met[] = []
  readonly #grooveOfArea = new Map<number, number>()
  readonly #viewSets: readonly (ViewSet & { readonly areaId: number })[]
  readonly #views: ViewTiles | null
  readonly #shines = new Float64Array(mostViews)
  /** Part of the last gathered pixel that the area has, 0..1. */
  #covered = 0
  /** Which areas lie over one another, and on how many map pixels. */
  readonly overlaps: { readonly under: OpenArea; readonly upper: OpenArea; pixels: number }[] = []
  /** Pixels at which more than `mostGratings` areas met. */
  crowded = 0
  /** Finest pitch seen in each area by its id, nm. */
  readonly finest = new Map<number, number>()
  /** Coarsest grating seen in each area by its id, nm. */
  readonly coarsest = new Map<number, { readonly pitch: number; readonly depth: number }>()
  /** Groove shapes in use, in the order of the map. */
  readonly grooves: Groove[] = []
  /** Ids of areas that put a grating anywhere. */
  readonly seen = new Set<number>()

  constructor(file: Pick<ArtFile, 'art'>, grid: Grid, areas: readonly OpenArea[]) {
    this.#grid = grid
    this.#rgb = rgbReader(file.art)
    this.#viewSets = areas.flatMap(area =>
      area.field.kind === 'views'
        ? [
            {
              areaId: area.id,
              name: area.name,
              ...area.field.design,
              grooveDepth: area.field.grooveDepth,
              groove: this.#grooveOf(area),
              share: area.field.share,
            },
          ]
        : [],
    )
    if (this.#viewSets.length > mostViewSets)
      throw new BadInput(
        'too-many-view-sets',
        'holography',
        `${this.#viewSets.length} areas with views`,
        `a map holds ${mostViewSets}`,
        'Join areas, or give some of them another effect.',
      )
    this.#views =
      this.#viewSets.length > 0 ? new ViewTiles(grid.width, grid.height, viewBytes(this.#viewSets)) : null
  }

  /** An empty band of map rows from..to. */
  band(from: number, to: number): Band {
    return new Band(this.#grid.width, from, to, this.#views?.bytes ?? 0)
  }

  /**
   * Lays an area on a band.
   * @param amount where the area is and what is painted there
   * @param mask   what limits it instead of its own amount, or null
   */
  lay(area: GratingArea, amount: Coverage, mask: Coverage | null, band: Band): void {
    const limit = mask ?? amount
    const { box } = amount
    const { field } = area
    const parts = field.kind === 'beside' ? field.parts : [field]
    const drawn = area.source.kind === 'outline'
    const [left, right] = over(this.#grid.columns, box.left, box.right)
    for (const [i, part] of parts.entries()) {
      this.#sample.spread = 0
      this.#sample.jitter = 0
      for (let y = band.from; y < band.to; y++)
        for (let x = left; x < right; x++) {
          const moment = this.#gather(area, part, amount, limit, x, y)
          if (drawn && i === 0) band.cut(x, y, this.#covered)
          if (moment.weight > 0) band.add(x, y, area, moment)
        }
    }
  }

  /**
   * Lays an area of views on a band.
   * @param limit where it may be, or null for everywhere
   */
  layViews(area: ViewArea, limit: Coverage | null, band: Band): void {
    const { place, design } = area.field
    if (place === null) return
    const { width, height, widthMm, heightMm } = this.#grid
    const id = 1 + this.#viewSets.findIndex(set => set.areaId === area.id)
    const left = Math.max(0, Math.floor((place.leftMm / widthMm) * width))
    const right = Math.min(width, Math.ceil(((place.leftMm + place.widthMm) / widthMm) * width))
    const top = Math.max(band.from, Math.floor((1 - (place.bottomMm + place.heightMm) / heightMm) * height))
    const bottom = Math.min(band.to, Math.ceil((1 - place.bottomMm / heightMm) * height))
    const shines = this.#shines.subarray(0, design.channels.length)
    const put = (x: number, y: number, part: number) => {
      if (x < left || x >= right || part <= 0) return
      area.field.at(((x + 0.5) / width) * widthMm, (1 - (y + 0.5) / height) * heightMm, shines)
      if (area.source.kind === 'outline') band.cut(x, y, Math.min(1, part))
      if (shines.some(one => one > 0)) band.addViews(x, y, area, id, shines, Math.min(1, part))
    }
    if (limit) {
      averageOver(this.#grid, limit.box, top, bottom, i => limit.data[i]!, put)
      return
    }
    for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) put(x, y, 1)
  }

  #gather(
    area: GratingArea,
    field: GratingField,
    amount: Coverage,
    limit: Coverage,
    x: number,
    y: number,
  ): GratingMoment {
    const { columns, rows, widthMm, heightMm } = this.#grid
    const mean = this.#mean
    const sample = this.#sample
    const groove = this.#grooveOf(area)
    const drawn = area.source.kind === 'outline'
    this.#covered = 0
    mean.clear()
    for (let j = 0; j < rows.count[y]!; j++) {
      const down = rows.start[y]! + j
      for (let i = 0; i < columns.count[x]!; i++) {
        const across = columns.start[x]! + i
        const own = index(amount, across, down)
        if (own < 0) continue
        // A mask takes the place of a layer's own paint, but only narrows a shape that is drawn.
        const part =
          drawn && limit !== amount ? at(limit, across, down) * amount.data[own]! : at(limit, across, down)
        if (part <= 0) continue
        // Outside its own paint an area masked by another layer has no colour to read.
        if (limit !== amount && amount.surface && amount.surface.alpha[own] === 0) continue
        if (field.readsArt) this.#readTone(amount, own)
        const xMm = middle(columns, x, across, widthMm)
        const yMm = heightMm - middle(rows, y, down, heightMm)
        field.at(xMm, yMm, this.#tone, sample)
        const covered = part * rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
        this.#covered += covered
        const weight = covered * sample.share
        if (weight === 0) continue
        const k = 1000 / sample.pitch
        mean.add(
          k * Math.cos(sample.azimuth),
          k * Math.sin(sample.azimuth),
          (k * sample.spread) ** 2,
          (k * sample.jitter) ** 2,
          weight,
          sample.grooveDepth,
          groove,
        )
        if (sample.pitch < (this.finest.get(area.id) ?? Number.POSITIVE_INFINITY))
          this.finest.set(area.id, sample.pitch)
        if (sample.pitch > (this.coarsest.get(area.id)?.pitch ?? 0))
          this.coarsest.set(area.id, { pitch: sample.pitch, depth: sample.grooveDepth })
      }
    }
    return mean.mean(this.#moment)
  }

  #grooveOf(area: OpenArea): number {
    let index = this.#grooveOfArea.get(area.id)
    if (index === undefined) {
      index = grooveIndex(this.grooves, area.field.groove)
      if (index >= mostGrooves)
        throw new BadInput(
          'too-many-grooves',
          'holography',
          `area "${area.name}"`,
          `needs a groove shape of its own, and a map holds ${mostGrooves}`,
          'Give several areas the same groove shape.',
        )
      this.#grooveOfArea.set(area.id, index)
    }
    return index
  }

  #readTone(amount: Coverage, i: number): void {
    if (amount.surface) {
      toneOf(this.#rgb(amount.surface, i, this.#colour), this.#tone)
      return
    }
    // A channel has no colour: its ink darkens.
    this.#tone.lightness = 1 - amount.data[i]!
    this.#tone.hue = 0
    this.#tone.chroma = 0
  }

  /**
   * Stores a finished band. Where areas meet and ask for more than the whole area, each keeps its part of it.
   * @param areaIds the map's area plane: the area with the largest part, the upper one of two equal
   */
  finish(band: Band, areaIds: Uint8Array | Uint16Array): void {
    const { width, height } = this.#grid
    for (let y = band.from; y < band.to; y++)
      for (let x = 0; x < width; x++) {
        const count = band.read(x, y, this.#met)
        const view = band.view(x, y)
        if (count === 0 && view === null) continue
        let total = view?.weight ?? 0
        for (let i = 0; i < count; i++) total += this.#met[i]!.moment.weight
        this.#note(count, total, view?.area ?? null)
        if (view) {
          if (total > 1) for (let i = 0; i < view.shines.length; i++) view.shines[i]! /= total
          this.#views?.set(x, y, view.id, view.shines, view.area.field.design.channels.length)
          areaIds[y * width + x] = view.area.id
        }
        if (count === 0) continue
        const kept = count > mostGratings ? largest(this.#met.slice(0, count), mostGratings) : this.#met
        let top: OpenArea | null = null
        let largestPart = -1
        for (let slot = 0; slot < Math.min(count, mostGratings); slot++) {
          const one = kept[slot]!
          if (total > 1) one.moment.weight /= total
          this.#tiles[slot] ??= new GratingTiles(width, height)
          this.#tiles[slot]!.set(x, y, one.moment)
        }
        for (let slot = 0; slot < Math.min(count, mostGratings); slot++) {
          const { area } = kept[slot]!
          let part = 0
          for (let i = 0; i < Math.min(count, mostGratings); i++)
            if (kept[i]!.area.id === area.id) part += kept[i]!.moment.weight
          if (part < largestPart) continue
          largestPart = part
          top = area
        }
        if (top && (view === null || largestPart * Math.max(1, total) > view.weight))
          areaIds[y * width + x] = top.id
      }
  }

  #note(count: number, total: number, view: OpenArea | null): void {
    for (let i = 0; i < count; i++) this.seen.add(this.#met[i]!.area.id)
    if (view) this.seen.add(view.id)
    if (count + (view ? 1 : 0) < 2) return
    if (count > mostGratings) this.crowded++
    // Neighbours that share the pixels of a soft edge do not overlap.
    if (total < 1.05) return
    const under = this.#met[0]!.area
    let upper = view
    for (let i = count - 1; i > 0; i--) if (this.#met[i]!.area.id !== under.id) upper = this.#met[i]!.area
    if (upper === null) return
    const pair = this.overlaps.find(one => one.under.id === under.id && one.upper.id === upper.id)
    if (pair) pair.pixels++
    else this.overlaps.push({ under, upper, pixels: 1 })
  }

  /** The planes of all grating channels; the painter is used up. */
  planes(): {
    readonly channels: readonly GratingChannel[]
    readonly planes: readonly (readonly [string, MapPlane])[]
    readonly viewSets: readonly ViewSet[]
  } {
    const channels = this.#tiles.map((_, i) => gratingChannel(i + 1))
    return {
      channels,
      planes: [
        ...this.#tiles.flatMap((tiles, i) => tiles.finish(channels[i]!)),
        ...(this.#views?.finish() ?? []),
      ],
      viewSets: this.#viewSets.map(({ areaId: _, ...set }) => set),
    }
  }
}

interface LaidViews {
  readonly id: number
  readonly area: ViewArea
  readonly weight: number
  readonly shines: Float64Array
}

interface Met {
  area: GratingArea
  readonly moment: GratingMoment
}

/** The gratings of some map rows before they are stored; as many layers of them as areas meet at a pixel. */
export class Band {
  readonly #width: number
  readonly #counts: Uint8Array
  readonly #views: number
  readonly #shown: { id: number; area: ViewArea | null; weight: number; readonly shines: Float64Array } = {
    id: 0,
    area: null,
    weight: 0,
    shines: new Float64Array(mostViews),
  }
  #laid: {
    readonly areas: Map<number, ViewArea>
    readonly ids: Uint8Array
    readonly parts: Float32Array
    readonly shines: Float32Array
  } | null = null
  readonly #layers: {
    readonly areas: GratingArea[]
    readonly numbers: Uint16Array
    readonly values: Float64Array
  }[] = []

  constructor(
    width: number,
    readonly from: number,
    readonly to: number,
    /** Most views of a set, or 0. */
    views: number,
  ) {
    this.#width = width
    this.#counts = new Uint8Array(width * (to - from))
    this.#views = views
  }

  /** @param part of the pixel that the set may have, 0..1; where two sets meet the larger part stays, the upper of two equal */
  addViews(x: number, y: number, area: ViewArea, id: number, shines: Float64Array, part: number): void {
    this.#laid ??= {
      areas: new Map(),
      ids: new Uint8Array(this.#counts.length),
      parts: new Float32Array(this.#counts.length),
      shines: new Float32Array(this.#counts.length * this.#views),
    }
    const pixel = (y - this.from) * this.#width + x
    if (this.#laid.ids[pixel] !== 0 && part < this.#laid.parts[pixel]!) return
    this.#laid.areas.set(id, area)
    this.#laid.ids[pixel] = id
    this.#laid.parts[pixel] = part
    for (let i = 0; i < shines.length; i++) this.#laid.shines[pixel * this.#views + i] = part * shines[i]!
  }

  /** The views at a pixel, and the part of the pixel that they ask for; written over by the next call. */
  view(x: number, y: number): LaidViews | null {
    const pixel = (y - this.from) * this.#width + x
    const id = this.#laid?.ids[pixel] ?? 0
    if (!this.#laid || id === 0) return null
    const area = this.#laid.areas.get(id)!
    const { shines } = this.#shown
    for (let i = 0; i < area.field.design.channels.length; i++)
      shines[i] = this.#laid.shines[pixel * this.#views + i]!
    this.#shown.id = id
    this.#shown.area = area
    this.#shown.weight = this.#laid.parts[pixel]! * area.field.share
    return this.#shown as LaidViews
  }

  /** Takes away a part 0..1 of all that lies at a pixel: something drawn takes its place. */
  cut(x: number, y: number, part: number): void {
    if (part <= 0) return
    const pixel = (y - this.from) * this.#width + x
    const left = 1 - Math.min(1, part)
    for (let level = 0; level < this.#counts[pixel]!; level++)
      this.#layers[level]!.values[pixel * fields + 4]! *= left
    if (!this.#laid || this.#laid.ids[pixel] === 0) return
    this.#laid.parts[pixel]! *= left
    for (let i = 0; i < this.#views; i++) this.#laid.shines[pixel * this.#views + i]! *= left
    if (left === 0) this.#laid.ids[pixel] = 0
  }

  add(x: number, y: number, area: GratingArea, moment: GratingMoment): void {
    const pixel = (y - this.from) * this.#width + x
    const level = this.#counts[pixel]!
    if (level === 255) return
    this.#counts[pixel] = level + 1
    this.#layers[level] ??= {
      areas: [],
      numbers: new Uint16Array(this.#counts.length),
      values: new Float64Array(this.#counts.length * fields),
    }
    const { areas, numbers, values } = this.#layers[level]!
    if (areas.at(-1) !== area) areas.push(area)
    numbers[pixel] = areas.length - 1
    const v = pixel * fields
    values[v] = moment.kx
    values[v + 1] = moment.ky
    values[v + 2] = moment.along
    values[v + 3] = moment.across
    values[v + 4] = moment.weight
    values[v + 5] = moment.depth
    values[v + 6] = moment.groove
  }

  /** Writes what lies at a pixel, bottom first, over the entries of `out`, which grows as needed; returns how many. */
  read(x: number, y: number, out: Met[]): number {
    const pixel = (y - this.from) * this.#width + x
    let count = 0
    for (let level = 0; level < this.#counts[pixel]!; level++) {
      const { areas, numbers, values } = this.#layers[level]!
      const v = pixel * fields
      if (values[v + 4] === 0) continue
      const area = areas[numbers[pixel]!]!
      out[count] ??= { area, moment: emptyMoment() }
      const one = out[count]!
      one.area = area
      one.moment.kx = values[v]!
      one.moment.ky = values[v + 1]!
      one.moment.along = values[v + 2]!
      one.moment.across = values[v + 3]!
      one.moment.weight = values[v + 4]!
      one.moment.depth = values[v + 5]!
      one.moment.groove = values[v + 6]!
      count++
    }
    return count
  }
}

function largest(met: readonly Met[], count: number): readonly Met[] {
  const chosen = new Set(met.toSorted((a, b) => b.moment.weight - a.moment.weight).slice(0, count))
  return met.filter(one => chosen.has(one))
}

function index({ box }: Coverage, x: number, y: number): number {
  const inside = x >= box.left && x < box.right && y >= box.top && y < box.bottom
  return inside ? (y - box.top) * (box.right - box.left) + x - box.left : -1
}

function at(coverage: Coverage, x: number, y: number): number {
  const i = index(coverage, x, y)
  return i < 0 ? 0 : coverage.data[i]!
}
