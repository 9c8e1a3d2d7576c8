import type { Task } from '../../base/task.ts'
import type { Box, Rows } from '../layer.ts'

/** A part of a page as it was painted with some of its layers: bytes, 255 = solid. */
export interface Band {
  readonly box: Box
  /** Of each ink, row by row; null where there is none of it in the band. */
  readonly planes: readonly (Uint8Array | null)[]
  /** How much of each pixel is painted at all. */
  readonly shape: Uint8Array
}

/** Paints a part of a page with the leaves that are shown. */
export type PaintBand = (shown: ReadonlySet<number>, box: Box, task: Task | undefined) => Promise<Band>

/** Bytes of painted bands that are kept at most: a carton of 7000 × 4700 pixels in seven inks, and one more layer. */
const mostBytes = 320 * 2 ** 20

/** Pixels of a band: each costs a look at all marks, and is painted whole for whoever wants a few of its rows. */
const bandPixels = 2 ** 21

/** Painted bands of a page, kept for whoever asks again: planes are asked for ink by ink, layers strip by strip. */
export class Bands {
  readonly #paint: PaintBand
  readonly #most: number
  /** By layers, least recently asked for first. */
  readonly #kept = new Map<string, Map<number, Band>>()
  #bytes = 0

  /** @param most bytes of bands that are kept */
  constructor(paint: PaintBand, most: number = mostBytes) {
    this.#paint = paint
    this.#most = most
  }

  /**
   * The bands over these rows, from the top.
   * @param reach where these leaves can have painted; with the same leaves it is the same
   */
  async over(
    shown: ReadonlySet<number>,
    reach: Box,
    { top, bottom }: Rows,
    task: Task | undefined,
  ): Promise<Band[]> {
    const bands: Band[] = []
    const width = reach.right - reach.left
    if (width <= 0 || reach.bottom <= reach.top) return bands
    const rows = Math.max(16, Math.floor(bandPixels / width))
    const last = Math.ceil((Math.min(bottom, reach.bottom) - reach.top) / rows)
    for (let n = Math.max(0, Math.floor((top - reach.top) / rows)); n < last; n++) {
      const from = reach.top + n * rows
      const box = { ...reach, top: from, bottom: Math.min(reach.bottom, from + rows) }
      bands.push(await this.#band(shown, n, box, task))
    }
    return bands
  }

  /** Lets go of all of them. */
  clear(): void {
    this.#kept.clear()
    this.#bytes = 0
  }

  async #band(shown: ReadonlySet<number>, number: number, box: Box, task: Task | undefined): Promise<Band> {
    const key = [...shown].toSorted((a, b) => a - b).join(' ')
    const known = this.#kept.get(key) ?? new Map<number, Band>()
    this.#kept.delete(key)
    this.#kept.set(key, known)
    const old = known.get(number)
    if (old) return old
    const band = await this.#paint(shown, box, task)
    this.#keep(known, number, band)
    return band
  }

  /** What was asked for longest ago goes first, other layers' before its own. */
  #keep(into: Map<number, Band>, number: number, band: Band): void {
    const bytes = bytesOf(band)
    for (const [key, bands] of this.#kept) {
      if (this.#bytes + bytes <= this.#most) break
      if (bands === into) continue
      for (const one of bands.values()) this.#bytes -= bytesOf(one)
      this.#kept.delete(key)
    }
    for (const [old, one] of into) {
      if (this.#bytes + bytes <= this.#most) break
      into.delete(old)
      this.#bytes -= bytesOf(one)
    }
    into.set(number, band)
    this.#bytes += bytes
  }
}

const bytesOf = ({ planes, shape }: Band): number =>
  planes.reduce((sum, plane) => sum + (plane?.byteLength ?? 0), shape.byteLength)
