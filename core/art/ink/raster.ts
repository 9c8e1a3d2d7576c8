import { checkCancelled, type Task } from '../../base/task.ts'
import type { PixelBox } from './coverage.ts'
import { type Blending, type Mark, processCount } from './mark.ts'
import { NodeMaker } from './nodes.ts'
import type { Bounds } from './outline.ts'
import type { InkPage } from './page.ts'
import { Painter } from './painter.ts'
import { type Process, Surface } from './surface.ts'

export interface PaintWish {
  /** Of the whole page. */
  readonly widthPx: number
  readonly heightPx: number
  /** First row that is painted, and the one after the last; row 0 is the uppermost. All where it is left out. */
  readonly rows?: readonly [number, number]
  /** First column that is painted, and the one after the last. All where it is left out. */
  readonly columns?: readonly [number, number]
  /** Whether marks of a layer are painted; null: those in none. Marks inside a group in a layer lie in it too. */
  readonly layers?: (layer: number | null) => boolean
  /** Whether a mark is painted. Groups are not asked, but their marks. */
  readonly marks?: (mark: Mark) => boolean
}

/** A page, or rows of it, as pixels. */
export interface InkPlanes {
  /** Columns that are painted. */
  readonly width: number
  /** Row of the page that the planes begin with. */
  readonly top: number
  readonly rows: number
  /** One a ink of the page, 255 = solid, rows from the top. */
  readonly inks: readonly Uint8Array[]
  /** What is painted at all, 255 = wholly, with whatever inks, none of them too. */
  readonly shape: Uint8Array
}

/** Samples of a band, of all inks together: they stay in the processor's cache. */
const samplesOfBand = 1 << 20

/**
 * Paints a page: every ink a plane of its own, all in one pass, as ISO 32000-2, chapter 11 composes them. The page is an
 * isolated group on white paper (11.4.7): inks that no mark paints are 0.
 *
 * Pixels are squares of the box that is read, stretched to `widthPx` by `heightPx`. Besides the planes it holds one band
 * of rows, and edges of the marks that reach it. Throws {@link Cancelled} between bands.
 */
export function paintPage(page: InkPage, wish: PaintWish, task?: Task): InkPlanes {
  const { widthPx, heightPx: height } = wish
  const [top, bottom] = wish.rows ?? [0, height]
  const [left, right] = wish.columns ?? [0, widthPx]
  const width = right - left
  const size = width * (bottom - top)
  const inks = page.inks.map(() => new Uint8Array(size))
  const shape = new Uint8Array(size)
  const toPixels = [widthPx / page.widthMm, 0, 0, -height / page.heightMm, -left, height] as const
  const all: Bounds = [0, top, width, bottom]
  const wanted = { layer: wish.layers ?? (() => true), mark: wish.marks ?? (() => true) }
  const nodes = new NodeMaker(toPixels, all).nodes(page.marks, wanted)
  const painter = new Painter(width, Math.max(1, page.inks.length))
  const bandRows = Math.max(8, Math.round(samplesOfBand / (width * (page.inks.length + 1))))
  const process = page.blending?.own ?? processOf(page)
  let surface: Surface | null = null
  for (let y = top; y < bottom; y += bandRows) {
    checkCancelled(task)
    task?.progress?.((y - top) / (bottom - top), 'painting the page')
    const band: PixelBox = { left: 0, top: y, right: width, bottom: Math.min(bottom, y + bandRows) }
    const reached = nodes.filter(({ bounds }) => bounds[1] < band.bottom && bounds[3] > band.top)
    if (reached.length === 0) continue
    const isLast = band.bottom - band.top < bandRows
    if (surface === null || isLast) surface = new Surface(band, process, page.inks.length, false, false, null)
    else surface.clear(band)
    painter.begin(band)
    for (const node of reached) painter.paint(node, surface, [])
    if (page.blending !== undefined) turnToInks(surface, page.blending)
    const at = (y - top) * width
    for (let ink = 0; ink < inks.length; ink++)
      if (surface.holds(ink, 0, width)) toBytes(surface.plane(ink)!, inks[ink]!, at)
    toBytes(surface.alpha, shape, at)
  }
  task?.progress?.(1, 'painting the page')
  return { width, top, rows: bottom - top, inks, shape }
}

/** On white paper, α C of what light lacks is what the paper lacks of it: that is turned into ink. */
function turnToInks(surface: Surface, { own, outer, outward }: Blending): void {
  const { width } = surface
  const numbers = Array.from({ length: processCount[own] }, (_, ink) => ink)
  if (!numbers.some(ink => surface.holds(ink, 0, width))) return
  const length = width * surface.rows
  const lacking = numbers.map(ink => surface.plane(ink) ?? new Float32Array(length))
  const out = Array.from({ length: processCount[outer] }, (_, ink) => surface.write(ink, 0, width))
  outward(lacking, 0, length, out)
}

/** Amounts as bytes, from `at` on. Flat art is runs of one amount: those are found by their bits and filled. */
function toBytes(plane: Float32Array, out: Uint8Array, at: number): void {
  const bits = new Int32Array(plane.buffer)
  const end = bits.length
  for (let i = 0; i < end; ) {
    const same = bits[i]!
    let next = i + 1
    while (
      next + 3 < end &&
      bits[next] === same &&
      bits[next + 1] === same &&
      bits[next + 2] === same &&
      bits[next + 3] === same
    )
      next += 4
    while (next < end && bits[next] === same) next++
    const byte = (plane[i]! * 255 + 0.5) | 0
    if (next - i >= 16) out.fill(byte, at + i, at + next)
    else for (let k = i; k < next; k++) out[at + k] = byte
    i = next
  }
}

/** What the process inks of a page are: a drawing's are the complements of light, all others print. */
function processOf({ inks }: InkPage): Process {
  return inks[0]?.name === 'Red' && inks[1]?.name === 'Green' && inks[2]?.name === 'Blue' ? 'RGB' : 'CMYK'
}
