import type { ArtFile } from '../art/layer.ts'
import type { GratingField, GratingSample } from '../effects/effect.ts'
import { type Rgb, rgbReader, type Tone, toneOf } from '../roles/tone.ts'
import type { GratingArea } from './band.ts'
import type { Coverage } from './coverage.ts'
import { type Axis, type Grid, middle } from './grid.ts'
import { emptyMoment, GratingMean, type GratingMoment } from './moments.ts'

/** Reads the mean grating that an area puts into map pixels. */
export class Gatherer {
  readonly #grid: Grid
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
  /** Middles of the map's columns and rows, mm, where each has one document pixel; else null. */
  readonly #middles: { readonly x: Float64Array; readonly y: Float64Array } | null
  /** Part of the last gathered pixel that the area has, 0..1. */
  covered = 0
  /** Finest and widest pitch since `open`, nm, and the deepest groove of the widest, nm; no pitch: finest is infinite. */
  finest = Number.POSITIVE_INFINITY
  coarsest = 0
  depth = 0

  constructor(file: Pick<ArtFile, 'art'>, grid: Grid) {
    this.#grid = grid
    this.#rgb = rgbReader(file.art)
    const { columns, rows, widthMm, heightMm } = grid
    this.#middles =
      columns.most === 1 && rows.most === 1
        ? {
            x: middles(columns, widthMm),
            y: middles(rows, heightMm).map(down => heightMm - down),
          }
        : null
  }

  /** To be called before the pixels of another field. */
  open(): void {
    this.#sample.spread = 0
    this.#sample.jitter = 0
    this.finest = Number.POSITIVE_INFINITY
    this.coarsest = 0
    this.depth = 0
  }

  /**
   * The mean grating of a map pixel; weight 0 where there is none. Written over by the next call.
   * @param amount where the area is and what is painted there
   * @param limit  what limits it: a mask, or `amount` itself
   * @param groove the area's, as the map numbers it
   */
  at(
    area: GratingArea,
    field: GratingField,
    amount: Coverage,
    limit: Coverage,
    groove: number,
    x: number,
    y: number,
  ): GratingMoment {
    return this.#middles === null
      ? this.#many(area, field, amount, limit, groove, x, y)
      : this.#one(area, field, amount, limit, groove, x, y, this.#middles.x[x]!, this.#middles.y[y]!)
  }

  #one(
    area: GratingArea,
    field: GratingField,
    amount: Coverage,
    limit: Coverage,
    groove: number,
    x: number,
    y: number,
    xMm: number,
    yMm: number,
  ): GratingMoment {
    const out = this.#moment
    const across = this.#grid.columns.start[x]!
    const down = this.#grid.rows.start[y]!
    out.weight = 0
    this.covered = 0
    const own = index(amount, across, down)
    if (own < 0) return out
    const part = this.#part(area, amount, limit, own, across, down)
    if (part <= 0) return out
    if (field.readsArt) this.#readTone(amount, own)
    const sample = this.#sample
    field.at(xMm, yMm, this.#tone, sample)
    this.covered = part
    out.weight = part * sample.share
    if (out.weight === 0) return out
    const k = 1000 / sample.pitch
    out.kx = k * Math.cos(sample.azimuth)
    out.ky = k * Math.sin(sample.azimuth)
    out.along = (k * sample.spread) ** 2
    out.across = (k * sample.jitter) ** 2
    out.depth = sample.grooveDepth
    out.groove = groove
    this.#note()
    return out
  }

  #many(
    area: GratingArea,
    field: GratingField,
    amount: Coverage,
    limit: Coverage,
    groove: number,
    x: number,
    y: number,
  ): GratingMoment {
    const { columns, rows, widthMm, heightMm } = this.#grid
    const mean = this.#mean
    const sample = this.#sample
    this.covered = 0
    mean.clear()
    for (let j = 0; j < rows.count[y]!; j++) {
      const down = rows.start[y]! + j
      for (let i = 0; i < columns.count[x]!; i++) {
        const across = columns.start[x]! + i
        const own = index(amount, across, down)
        if (own < 0) continue
        const part = this.#part(area, amount, limit, own, across, down)
        if (part <= 0) continue
        if (field.readsArt) this.#readTone(amount, own)
        const xMm = middle(columns, x, across, widthMm)
        const yMm = heightMm - middle(rows, y, down, heightMm)
        field.at(xMm, yMm, this.#tone, sample)
        const covered = part * rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
        this.covered += covered
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
        this.#note()
      }
    }
    return mean.mean(this.#moment)
  }

  /** Part of a document pixel that the area has, 0..1. */
  #part(
    area: GratingArea,
    amount: Coverage,
    limit: Coverage,
    own: number,
    across: number,
    down: number,
  ): number {
    if (limit === amount) return amount.data[own]!
    // Outside its own paint an area masked by another layer has no colour to read.
    if (amount.surface && amount.surface.alpha[own] === 0) return 0
    const i = index(limit, across, down)
    if (i < 0) return 0
    // A mask takes the place of a layer's own paint, but only narrows a shape that is drawn.
    return area.source.kind === 'outline' ? limit.data[i]! * amount.data[own]! : limit.data[i]!
  }

  #note(): void {
    const { pitch, grooveDepth } = this.#sample
    if (pitch < this.finest) this.finest = pitch
    if (pitch < this.coarsest || (pitch === this.coarsest && grooveDepth <= this.depth)) return
    this.coarsest = pitch
    this.depth = grooveDepth
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
}

const middles = (axis: Axis, length: number): Float64Array =>
  Float64Array.from({ length: axis.size }, (_, i) => middle(axis, i, axis.start[i]!, length))

function index({ box }: Coverage, x: number, y: number): number {
  const inside = x >= box.left && x < box.right && y >= box.top && y < box.bottom
  return inside ? (y - box.top) * (box.right - box.left) + x - box.left : -1
}
