import type { ArtFile } from '../art/layer.ts'
import { BadInput } from '../base/finding.ts'
import type { GratingSample } from '../effects/effect.ts'
import { type Groove, grooveIndex } from '../optics/groove.ts'
import { mostGrooves } from '../optics/tables.ts'
import { type Rgb, rgbReader, type Tone, toneOf } from '../roles/tone.ts'
import type { HolographyArea } from './area-plan.ts'
import type { Coverage } from './coverage.ts'
import { type Grid, middle, over } from './grid.ts'
import type { GratingChannel, MapPlane } from './map.ts'
import { emptyMoment, GratingMean, type GratingMoment } from './moments.ts'
import { GratingTiles, gratingChannel } from './tiles.ts'

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
  readonly #grooveOfArea = new Map<HolographyArea, number>()
  /** Which areas lie over one another, and on how many map pixels. */
  readonly overlaps: { readonly under: HolographyArea; readonly upper: HolographyArea; pixels: number }[] = []
  /** Pixels at which more than `mostGratings` areas met. */
  crowded = 0
  /** Finest pitch seen in each area, nm. */
  readonly finest = new Map<HolographyArea, number>()
  /** Coarsest grating seen in each area, nm. */
  readonly coarsest = new Map<HolographyArea, { readonly pitch: number; readonly depth: number }>()
  /** Groove shapes in use, in the order of the map. */
  readonly grooves: Groove[] = []
  /** Areas that put a grating anywhere. */
  readonly seen = new Set<HolographyArea>()

  constructor(file: ArtFile, grid: Grid) {
    this.#grid = grid
    this.#rgb = rgbReader(file.art)
  }

  /** An empty band of map rows from..to. */
  band(from: number, to: number): Band {
    return new Band(this.#grid.width, from, to)
  }

  /**
   * Lays an area on a band.
   * @param amount where the area is and what is painted there
   * @param mask   what limits it instead of its own amount, or null
   */
  lay(area: HolographyArea, amount: Coverage, mask: Coverage | null, band: Band): void {
    const limit = mask ?? amount
    const { box } = amount
    this.#sample.spread = 0
    this.#sample.jitter = 0
    const [left, right] = over(this.#grid.columns, box.left, box.right)
    for (let y = band.from; y < band.to; y++)
      for (let x = left; x < right; x++) {
        const moment = this.#gather(area, amount, limit, x, y)
        if (moment.weight > 0) band.add(x, y, area, moment)
      }
  }

  #gather(area: HolographyArea, amount: Coverage, limit: Coverage, x: number, y: number): GratingMoment {
    const { columns, rows, widthMm, heightMm } = this.#grid
    const mean = this.#mean
    const sample = this.#sample
    const groove = this.#grooveOf(area)
    mean.clear()
    for (let j = 0; j < rows.count[y]!; j++) {
      const down = rows.start[y]! + j
      for (let i = 0; i < columns.count[x]!; i++) {
        const across = columns.start[x]! + i
        const part = at(limit, across, down)
        const own = index(amount, across, down)
        if (part <= 0 || own < 0) continue
        // Outside its own paint an area masked by another layer has no colour to read.
        if (limit !== amount && amount.surface && amount.surface.alpha[own] === 0) continue
        if (area.field.readsArt) this.#readTone(amount, own)
        const xMm = middle(columns, x, across, widthMm)
        const yMm = heightMm - middle(rows, y, down, heightMm)
        area.field.at(xMm, yMm, this.#tone, sample)
        const weight =
          part * sample.share * rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
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
        if (sample.pitch < (this.finest.get(area) ?? Number.POSITIVE_INFINITY))
          this.finest.set(area, sample.pitch)
        if (sample.pitch > (this.coarsest.get(area)?.pitch ?? 0))
          this.coarsest.set(area, { pitch: sample.pitch, depth: sample.grooveDepth })
      }
    }
    return mean.mean(this.#moment)
  }

  #grooveOf(area: HolographyArea): number {
    let index = this.#grooveOfArea.get(area)
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
      this.#grooveOfArea.set(area, index)
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
        if (count === 0) continue
        let total = 0
        for (let i = 0; i < count; i++) total += this.#met[i]!.moment.weight
        this.#note(count, total)
        const kept = count > mostGratings ? largest(this.#met.slice(0, count), mostGratings) : this.#met
        let top = kept[0]!
        for (let slot = 0; slot < Math.min(count, mostGratings); slot++) {
          const one = kept[slot]!
          if (total > 1) one.moment.weight /= total
          this.#tiles[slot] ??= new GratingTiles(width, height)
          this.#tiles[slot]!.set(x, y, one.moment)
          if (one.moment.weight >= top.moment.weight) top = one
        }
        areaIds[y * width + x] = top.area.id
      }
  }

  #note(count: number, total: number): void {
    for (let i = 0; i < count; i++) this.seen.add(this.#met[i]!.area)
    if (count === 1) return
    if (count > mostGratings) this.crowded++
    // Neighbours that share the pixels of a soft edge do not overlap.
    if (total < 1.05) return
    const [under, upper] = [this.#met[0]!.area, this.#met[1]!.area]
    const pair = this.overlaps.find(one => one.under === under && one.upper === upper)
    if (pair) pair.pixels++
    else this.overlaps.push({ under, upper, pixels: 1 })
  }

  /** The planes of all grating channels; the painter is used up. */
  planes(): {
    readonly channels: readonly GratingChannel[]
    readonly planes: readonly (readonly [string, MapPlane])[]
  } {
    const channels = this.#tiles.map((_, i) => gratingChannel(i + 1))
    return { channels, planes: this.#tiles.flatMap((tiles, i) => tiles.finish(channels[i]!)) }
  }
}

interface Met {
  area: HolographyArea
  readonly moment: GratingMoment
}

/** The gratings of some map rows before they are stored; as many layers of them as areas meet at a pixel. */
export class Band {
  readonly #width: number
  readonly #counts: Uint8Array
  readonly #layers: {
    readonly areas: HolographyArea[]
    readonly numbers: Uint16Array
    readonly values: Float64Array
  }[] = []

  constructor(
    width: number,
    readonly from: number,
    readonly to: number,
  ) {
    this.#width = width
    this.#counts = new Uint8Array(width * (to - from))
  }

  add(x: number, y: number, area: HolographyArea, moment: GratingMoment): void {
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
    const count = this.#counts[pixel]!
    for (let level = 0; level < count; level++) {
      const { areas, numbers, values } = this.#layers[level]!
      const area = areas[numbers[pixel]!]!
      out[level] ??= { area, moment: emptyMoment() }
      const one = out[level]!
      const v = pixel * fields
      one.area = area
      one.moment.kx = values[v]!
      one.moment.ky = values[v + 1]!
      one.moment.along = values[v + 2]!
      one.moment.across = values[v + 3]!
      one.moment.weight = values[v + 4]!
      one.moment.depth = values[v + 5]!
      one.moment.groove = values[v + 6]!
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
