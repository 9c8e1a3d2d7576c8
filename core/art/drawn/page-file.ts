import { checkCancelled, type Task } from '../../base/task.ts'
import { boxHeight, boxWidth, intersect } from '../box.ts'
import { emptySurface } from '../composite-surface.ts'
import type { Mark } from '../ink/mark.ts'
import type {
  Art,
  ArtFile,
  Box,
  DrawnEdges,
  EdgesOf,
  Layer,
  PaintHow,
  Plane,
  Rows,
  Surface,
} from '../layer.ts'
import { type Band, Bands, type PaintBand } from './bands.ts'
import { type Effect, type EffectOf, markEdges } from './edges.ts'
import type { Leaf, PaintMark } from './leaves.ts'

/** What a page is painted by, and what of it is what. */
export interface Painted {
  readonly leaves: readonly Leaf[]
  readonly leafOf: ReadonlyMap<string, number>
  /** Inks that are process colours: the first. */
  readonly process: number
  /** Leaves of which the file says that they are not printed. */
  readonly silent: ReadonlySet<number>
  /** Marks of the page, `layer` being the number of their leaf. */
  readonly marks: readonly Mark[]
  /** Whether marks outside of groups are told in inks, and not in colours that are turned into inks at the end. */
  readonly inInks: boolean
  /** What paints it without some of its marks. */
  readonly paint: (without: ReadonlySet<Mark>) => PaintBand
  /** What of it is painted, document pixels; null: all. */
  readonly part: Box | null
  /** The same page in so many times the pixels along each side, a part of it. */
  readonly finer: (times: number, part: Box) => ArtFile
}

/** A drawn page as art: its planes are painted when they are asked for, all inks of a band of rows at once. */
export class PageFile implements ArtFile {
  readonly #painted: Painted
  readonly #bands: Bands
  readonly #layers: ReadonlyMap<string, Layer>
  /** Where each leaf can have painted. */
  readonly #boxes: ReadonlyMap<number, Box>
  /** Leaves that are shown as the file opens, and with them the hidden ones that are drawn in spot inks alone. */
  readonly #shown: ReadonlySet<number>
  readonly #plates: ReadonlySet<number>
  #knockers: ReadonlySet<number> | null = null

  constructor(
    readonly art: Art,
    painted: Painted,
    keep?: number,
  ) {
    this.#painted = painted
    this.#bands = new Bands(painted.paint(new Set()), keep)
    this.#layers = new Map(art.layers.map(layer => [layer.id, layer]))
    this.#boxes = new Map(
      art.layers.flatMap(({ id, box }) => {
        const leaf = painted.leafOf.get(id)
        return leaf === undefined ? [] : [[leaf, box] as const]
      }),
    )
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

  finer(times: number, part: Box): ArtFile {
    return this.#painted.finer(times, part)
  }

  release(): void {
    this.#bands.clear()
  }

  edges(of: EdgesOf, task: Task | undefined): DrawnEdges | null {
    const { marks, paint, inInks } = this.#painted
    if (!inInks) return null
    const found = markEdges(marks, this.#effects(of), task)
    if (found === null) return null
    const { steps } = found
    if (found.isAll) return { steps, below: null }
    // Without outlines what is left is all of it, which may be painted already.
    if (steps.length === 0) return { steps, below: this }
    const below = { ...this.#painted, paint: () => paint(found.marks) }
    return { steps, below: new PageFile(this.art, below, keptBelow) }
  }

  /** What each mark does to something that has edges, as {@link paintLayers} and {@link documentPlane} paint it. */
  #effects(of: EdgesOf): EffectOf {
    const { process, leaves } = this.#painted
    const all = Array.from({ length: process }, (_, ink) => ink)
    switch (of.kind) {
      case 'layers': {
        const shown = this.#numbers(of.layers)
        const spots = this.#inSpots(shown) ? [...shown].flatMap(leaf => leaves[leaf]!.spots ?? []) : null
        return mark => {
          if (mark.layer === null || !shown.has(mark.layer)) return 'absent'
          return spots === null ? 'lays' : effectOn(mark, spots, half)
        }
      }
      case 'process': {
        const [shown, knocking] = [this.#numbers(of.layers), this.#numbers(of.knocking)]
        return mark => {
          if (mark.layer === null) return 'absent'
          if (shown.has(mark.layer)) return effectOn(mark, all, of.least)
          return knocking.has(mark.layer) ? effectOn(mark, all, Number.POSITIVE_INFINITY) : 'absent'
        }
      }
      case 'plane': {
        const shown = of.plane < process ? this.#shown : this.#plates
        return mark =>
          mark.layer !== null && shown.has(mark.layer) ? effectOn(mark, [of.plane], of.least) : 'absent'
      }
    }
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
    const box: Box = { left: 0, top, right: width, bottom }
    for (const band of await this.#bands.over(shown, this.#reach(shown), box, undefined)) {
      const plane = band.planes[index]
      if (plane)
        eachRow(band, box, (from, to, count) => {
          for (let x = 0; x < count; x++) data[to + x] = 255 - plane[from + x]!
        })
    }
    return { box, data }
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
    const spots = [...shown].flatMap(leaf => leaves[leaf]!.spots ?? [])
    const inSpots = this.#inSpots(shown)
    const over = this.#knocking(knocking)
    const both = colours && over.size > 0 && !inSpots ? new Set([...shown, ...over]) : shown
    checkCancelled(task)
    for (const band of await this.#bands.over(shown, this.#reach(shown), box, task)) {
      const amount = inSpots ? spots.flatMap(ink => band.planes[ink] ?? []) : [band.shape]
      eachRow(band, box, (from, to, count) => {
        writeAlpha(amount, from, out.alpha, to, count)
        if (inSpots && colours) standIn(out, to, count)
      })
    }
    if (!colours || inSpots) return out
    for (const band of await this.#bands.over(both, this.#reach(both), box, task))
      for (let c = 0; c < process; c++) {
        const plane = band.planes[c]
        if (plane)
          eachRow(band, box, (from, to, count) => {
            writeColour(plane, from, out.alpha, out.planes[c]!, to, count)
          })
      }
    return out
  }

  /** Document pixels that leaves can have painted. */
  #reach(shown: ReadonlySet<number>): Box {
    const { width, height } = this.art
    const all = this.#painted.part ?? { left: 0, top: 0, right: width, bottom: height }
    const reach = { left: width, top: height, right: 0, bottom: 0 }
    for (const leaf of shown) {
      const box = this.#boxes.get(leaf)
      if (box === undefined) continue
      reach.left = Math.min(reach.left, box.left)
      reach.top = Math.min(reach.top, box.top)
      reach.right = Math.max(reach.right, box.right)
      reach.bottom = Math.max(reach.bottom, box.bottom)
    }
    // A line without width reaches a pixel beyond where it runs.
    return intersect(all, {
      left: reach.left - 2,
      top: reach.top - 2,
      right: reach.right + 2,
      bottom: reach.bottom + 2,
    })
  }

  /** Whether leaves print spot inks alone, and inks are told apart. */
  #inSpots(shown: ReadonlySet<number>): boolean {
    return (
      this.art.page?.readAs !== 'layers' &&
      [...shown].every(leaf => this.#painted.leaves[leaf]!.spots !== null)
    )
  }

  /** Leaves of these layers that knock anything out: what overprints by itself leaves other inks as they are. */
  #knocking(layers: ReadonlySet<string>): ReadonlySet<number> {
    this.#knockers ??= knockersOf(this.#painted.marks)
    return new Set([...this.#numbers(layers)].filter(leaf => this.#knockers!.has(leaf)))
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

/** Leaves with marks that do not overprint, or lie in a group that is laid down as a whole, with all inks. */
function knockersOf(marks: readonly Mark[], inGroup = false): ReadonlySet<number> {
  const found = new Set<number>()
  for (const mark of marks)
    if (mark.kind === 'group')
      for (const leaf of knockersOf(mark.marks, inGroup || mark.isolated || mark.knockout)) found.add(leaf)
    else if (mark.layer !== null && (inGroup || !mark.overprint)) found.add(mark.layer)
  return found
}

/** Bytes of bands that are kept of a page which is looked through once. */
const keptBelow = 32 * 2 ** 20

/** From here on an amount of a plate counts, by itself. */
const half = 0.5

/** What a solid mark does to inks: where it prints one of them so strongly that it counts, where it knocks all of them out. */
function effectOn({ paint, overprint }: PaintMark, inks: readonly number[], least: number): Effect | null {
  if (paint.kind !== 'tints') return null
  const painted = inks.filter(ink => paint.inks.includes(ink))
  if (painted.some(ink => paint.values[paint.inks.indexOf(ink)]! >= least)) return 'lays'
  if (!overprint || painted.length === inks.length) return 'takes'
  return painted.length === 0 ? 'leaves' : null
}

/** Calls for each row that a band shares with a box: where it begins in the band and in the box, and how long it is. */
function eachRow(band: Band, box: Box, visit: (from: number, to: number, count: number) => void): void {
  const both = intersect(band.box, box)
  const count = boxWidth(both)
  if (count === 0) return
  for (let y = both.top; y < both.bottom; y++) {
    const from = (y - band.box.top) * boxWidth(band.box) + both.left - band.box.left
    visit(from, (y - box.top) * boxWidth(box) + both.left - box.left, count)
  }
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
