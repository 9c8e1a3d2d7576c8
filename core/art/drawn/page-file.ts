import { checkCancelled, type Task } from '../../base/task.ts'
import { boxHeight, boxWidth, emptySurface, intersect } from '../composite-surface.ts'
import type { Art, ArtFile, Box, Layer, PaintHow, Plane, Rows, Surface } from '../layer.ts'
import { type Band, Bands, type PaintBand } from './bands.ts'
import type { Leaf } from './leaves.ts'

/** What a page is painted by, and what of it is what. */
export interface Painted {
  readonly leaves: readonly Leaf[]
  readonly leafOf: ReadonlyMap<string, number>
  /** Inks that are process colours: the first. */
  readonly process: number
  /** Leaves of which the file says that they are not printed. */
  readonly silent: ReadonlySet<number>
  readonly paint: PaintBand
  /** Bytes of painted bands that are kept; null: the usual. */
  readonly keep: number | null
  /** The same page in so many times the pixels along each side. */
  readonly finer: (times: number) => ArtFile
}

/** A drawn page as art: its planes are painted when they are asked for, all inks of a band of rows at once. */
export class PageFile implements ArtFile {
  readonly #painted: Painted
  readonly #bands: Bands
  readonly #layers: ReadonlyMap<string, Layer>
  /** Leaves that are shown as the file opens, and with them the hidden ones that are drawn in spot inks alone. */
  readonly #shown: ReadonlySet<number>
  readonly #plates: ReadonlySet<number>

  constructor(
    readonly art: Art,
    painted: Painted,
  ) {
    this.#painted = painted
    this.#bands = new Bands(art, painted.paint, painted.keep ?? undefined)
    this.#layers = new Map(art.layers.map(layer => [layer.id, layer]))
    const visible = (layer: Layer): boolean => {
      const parent = layer.parent === null ? undefined : this.#layers.get(layer.parent)
      return layer.visible && (parent === undefined || visible(parent))
    }
    const numbers = (which: (layer: Layer) => boolean) =>
      new Set(
        art.layers.filter(which).flatMap(layer => {
          const leaf = painted.leafOf.get(layer.id)
          return leaf === undefined ? [] : [leaf]
        }),
      )
    this.#shown = numbers(visible)
    // A plate is often switched off only to see the artwork below it.
    this.#plates = numbers(
      layer =>
        visible(layer) || (layer.inks !== undefined && !painted.silent.has(painted.leafOf.get(layer.id)!)),
    )
  }

  finer(times: number): ArtFile {
    return this.#painted.finer(times)
  }

  async layerPlane(layerId: string, channelId: number, rows?: Rows): Promise<Plane | null> {
    const layer = this.#layers.get(layerId)
    if (layer === undefined || !layer.channelIds.includes(channelId)) return null
    const { width, height } = this.art
    const box = intersect(layer.box, {
      left: 0,
      top: Math.max(0, rows?.top ?? 0),
      right: width,
      bottom: Math.min(height, rows?.bottom ?? height),
    })
    if (boxWidth(box) === 0 || boxHeight(box) === 0) return { box, data: new Uint8Array() }
    const how = { colours: channelId >= 0, knocking: new Set<string>() }
    const surface = await this.paintLayers(new Set([layerId]), box, how, undefined)
    const values = channelId < 0 ? surface.alpha : surface.planes[channelId]!
    return { box, data: Uint8Array.from(values, value => Math.round(255 * value)) }
  }

  maskPlane(): Promise<Plane | null> {
    return Promise.resolve(null)
  }

  vectorMaskPlane(): Promise<Plane | null> {
    return Promise.resolve(null)
  }

  async documentPlane(index: number, rows?: Rows): Promise<Plane> {
    const { process } = this.#painted
    if (index >= process && !this.art.channels.some(channel => channel.plane === index))
      throw new RangeError(`documentPlane: there is no plane ${index}`)
    const { width, height } = this.art
    const top = Math.max(0, rows?.top ?? 0)
    const bottom = Math.max(top, Math.min(height, rows?.bottom ?? height))
    const data = new Uint8Array(width * (bottom - top)).fill(255)
    const shown = index < process ? this.#shown : this.#plates
    for (const band of await this.#bands.over(shown, { top, bottom }, undefined))
      eachRow(band, { left: 0, right: width, top, bottom }, width, (from, to) => {
        const plane = band.planes[index]
        if (plane) for (let x = 0; x < width; x++) data[to + x] = 255 - plane[from + x]!
      })
    return { box: { left: 0, top, right: width, bottom }, data }
  }

  async paintLayers(
    layers: ReadonlySet<string>,
    box: Box,
    { colours, knocking }: PaintHow,
    task: Task | undefined,
  ): Promise<Surface> {
    const { process, leaves } = this.#painted
    const shown = this.#numbers(layers)
    const out = emptySurface(box, colours ? process : 0)
    if (colours) for (const plane of out.planes) plane.fill(1)
    if (shown.size === 0) return out
    const whole: Box = { left: 0, top: 0, right: this.art.width, bottom: this.art.height }
    const part = intersect(box, whole)
    if (boxWidth(part) === 0 || boxHeight(part) === 0) return out
    const spots = [...shown].flatMap(leaf => leaves[leaf]!.spots ?? [])
    const inSpots =
      this.art.page?.readAs !== 'layers' && [...shown].every(leaf => leaves[leaf]!.spots !== null)
    const over = this.#numbers(knocking)
    const both = colours && over.size > 0 && !inSpots ? new Set([...shown, ...over]) : shown
    const width = this.art.width
    checkCancelled(task)
    for (const band of await this.#bands.over(shown, part, task)) {
      eachRow(band, part, width, (from, _to, y) => {
        const to = (y - box.top) * boxWidth(box) + part.left - box.left
        const amount = inSpots ? spots.flatMap(ink => band.planes[ink] ?? []) : [band.shape]
        writeAlpha(amount, from + part.left, out.alpha, to, boxWidth(part))
        if (inSpots && colours) standIn(out, to, boxWidth(part))
      })
    }
    if (!colours || inSpots) return out
    for (const band of await this.#bands.over(both, part, task))
      eachRow(band, part, width, (from, _to, y) => {
        const to = (y - box.top) * boxWidth(box) + part.left - box.left
        for (let c = 0; c < process; c++) {
          const plane = band.planes[c]
          if (plane) writeColour(plane, from + part.left, out.alpha, out.planes[c]!, to, boxWidth(part))
        }
      })
    return out
  }

  #numbers(layers: ReadonlySet<string>): ReadonlySet<number> {
    const found = new Set<number>()
    for (const id of layers) {
      const leaf = this.#painted.leafOf.get(id)
      if (leaf !== undefined) found.add(leaf)
    }
    return found
  }
}

/** Calls for each row that a band shares with a box: where it begins in the band, and in rows of the width from `top` on. */
function eachRow(
  band: Band,
  { top, bottom }: Box,
  width: number,
  visit: (from: number, to: number, y: number) => void,
): void {
  for (let y = Math.max(top, band.rows.top); y < Math.min(bottom, band.rows.bottom); y++)
    visit((y - band.rows.top) * width, (y - top) * width, y)
}

/** The largest of some planes, as parts. */
function writeAlpha(
  planes: readonly Uint8Array[],
  from: number,
  alpha: Float32Array,
  to: number,
  count: number,
): void {
  for (const plane of planes)
    for (let x = 0; x < count; x++) {
      const value = plane[from + x]! / 255
      if (value > alpha[to + x]!) alpha[to + x] = value
    }
}

/** An amount of ink on paper as the colour of what is painted there: times its opacity it is that amount again. */
function writeColour(
  plane: Uint8Array,
  from: number,
  alpha: Float32Array,
  out: Float32Array,
  to: number,
  count: number,
): void {
  for (let x = 0; x < count; x++) {
    const amount = plane[from + x]!
    const painted = alpha[to + x]!
    if (amount > 0 && painted > 0) out[to + x] = 1 - Math.min(1, amount / 255 / painted)
  }
}

/** A spot ink darkens: black stands for it, or no light, where somebody asks for a colour. */
function standIn({ planes, alpha }: Surface, at: number, count: number): void {
  for (const plane of planes.length === 4 ? planes.slice(3) : planes)
    for (let x = at; x < at + count; x++) plane[x] = 1 - alpha[x]!
}
