import type { Box } from '../art/layer.ts'
import type { BesideField, GratingField, ViewField } from '../effects/effect.ts'
import { mostViews } from '../effects/view-image.ts'
import type { Grid } from './grid.ts'
import { emptyMoment, type GratingMoment } from './moments.ts'
import type { OpenArea } from './pictures.ts'

export type GratingArea = OpenArea & { readonly field: GratingField | BesideField }
export type ViewArea = OpenArea & { readonly field: ViewField }

export interface LaidViews {
  readonly id: number
  readonly area: ViewArea
  readonly weight: number
  readonly shines: Float64Array
}

/** One grating that lies at a pixel. */
export interface Met {
  area: GratingArea
  readonly moment: GratingMoment
}

const fields = 7

/** The gratings of a rectangle of map pixels before they are stored; as many layers of them as areas meet at a pixel. */
export class Band {
  /** The map pixels that lie in it. */
  box: Box = { left: 0, top: 0, right: 0, bottom: 0 }
  #width = 0
  #counts = new Uint8Array(0)
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
  #layers: {
    readonly areas: GratingArea[]
    readonly numbers: Uint16Array
    readonly values: Float64Array
  }[] = []

  /** @param views most views of a set, or 0 */
  constructor(views: number) {
    this.#views = views
  }

  /** Empties it and lays it over another rectangle; memory is used again. */
  open(box: Box): this {
    this.box = box
    this.#width = box.right - box.left
    const pixels = this.#width * (box.bottom - box.top)
    if (pixels > this.#counts.length) {
      this.#counts = new Uint8Array(pixels)
      this.#layers = []
      this.#laid = null
      return this
    }
    this.#counts.fill(0, 0, pixels)
    this.#laid?.ids.fill(0, 0, pixels)
    for (const { areas } of this.#layers) areas.length = 0
    return this
  }

  /** @param part of the pixel that the set may have, 0..1; where two sets meet the larger part stays, the upper of two equal */
  addViews(x: number, y: number, area: ViewArea, id: number, shines: Float64Array, part: number): void {
    this.#laid ??= {
      areas: new Map(),
      ids: new Uint8Array(this.#counts.length),
      parts: new Float32Array(this.#counts.length),
      shines: new Float32Array(this.#counts.length * this.#views),
    }
    const pixel = this.#pixel(x, y)
    if (this.#laid.ids[pixel] !== 0 && part < this.#laid.parts[pixel]!) return
    this.#laid.areas.set(id, area)
    this.#laid.ids[pixel] = id
    this.#laid.parts[pixel] = part
    for (let i = 0; i < shines.length; i++) this.#laid.shines[pixel * this.#views + i] = part * shines[i]!
  }

  /** The views at a pixel, and the part of the pixel that they ask for; written over by the next call. */
  view(x: number, y: number): LaidViews | null {
    if (this.#laid === null) return null
    const pixel = this.#pixel(x, y)
    const id = this.#laid.ids[pixel]!
    if (id === 0) return null
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
    const pixel = this.#pixel(x, y)
    const left = 1 - Math.min(1, part)
    for (let level = 0; level < this.#counts[pixel]!; level++)
      this.#layers[level]!.values[pixel * fields + 4]! *= left
    if (!this.#laid || this.#laid.ids[pixel] === 0) return
    this.#laid.parts[pixel]! *= left
    for (let i = 0; i < this.#views; i++) this.#laid.shines[pixel * this.#views + i]! *= left
    if (left === 0) this.#laid.ids[pixel] = 0
  }

  add(x: number, y: number, area: GratingArea, moment: GratingMoment): void {
    const pixel = this.#pixel(x, y)
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
    const pixel = this.#pixel(x, y)
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

  #pixel(x: number, y: number): number {
    return (y - this.box.top) * this.#width + x - this.box.left
  }
}

/** Map pixels where an area of views can shine; null where it nowhere does. */
export function viewPlace({ field: { place } }: ViewArea, grid: Grid): Box | null {
  if (place === null) return null
  const { width, height, widthMm, heightMm } = grid
  return {
    left: Math.max(0, Math.floor((place.leftMm / widthMm) * width)),
    right: Math.min(width, Math.ceil(((place.leftMm + place.widthMm) / widthMm) * width)),
    top: Math.max(0, Math.floor((1 - (place.bottomMm + place.heightMm) / heightMm) * height)),
    bottom: Math.min(height, Math.ceil((1 - place.bottomMm / heightMm) * height)),
  }
}
