import type { PixelBox } from './coverage.ts'

/** What the first inks of a surface are, which blend modes that need a whole colour must know. */
export type Process = 'CMYK' | 'RGB' | 'Gray' | 'none'

/**
 * What the marks of one group have come to inside a box (ISO 32000-2, 11.4). Amounts of ink are kept times the opacity
 * that they are seen with, α C: so composing needs no division, and what is left on white paper is the amount itself.
 */
export class Surface {
  readonly width: number
  readonly rows: number
  /** α C of each ink, where α counts what the group began on. Row by row. */
  readonly inks: readonly Float32Array[]
  /** Opacity of the group alone. */
  readonly alpha: Float32Array
  /** Shape of the group alone; null where nothing that it is laid into asks for it. */
  readonly shape: Float32Array | null
  /** Columns of the box in which an ink is not 0 everywhere: from, and the one after. */
  readonly #from: Int32Array
  readonly #to: Int32Array

  /**
   * @param count     inks
   * @param backdrop  what the group begins on (11.4.4); null for an isolated group, which begins on nothing
   */
  constructor(
    public box: PixelBox,
    readonly process: Process,
    count: number,
    readonly knockout: boolean,
    keepsShape: boolean,
    readonly backdrop: Backdrop | null,
  ) {
    this.width = box.right - box.left
    this.rows = box.bottom - box.top
    const size = this.width * this.rows
    this.inks =
      backdrop?.inks.map(plane => plane.slice()) ??
      Array.from({ length: count }, () => new Float32Array(size))
    this.alpha = new Float32Array(size)
    this.shape = keepsShape ? new Float32Array(size) : null
    this.#from = new Int32Array(count).fill(backdrop === null ? this.width : 0)
    this.#to = new Int32Array(count).fill(backdrop === null ? 0 : this.width)
  }

  /** Notes that an ink is put down in these columns of the page. */
  touch(ink: number, left: number, right: number): void {
    this.#from[ink] = Math.min(this.#from[ink]!, left - this.box.left)
    this.#to[ink] = Math.max(this.#to[ink]!, right - this.box.left)
  }

  /** Whether there may be any of an ink in these columns of the page. */
  holds(ink: number, left: number, right: number): boolean {
    return this.#from[ink]! < right - this.box.left && this.#to[ink]! > left - this.box.left
  }

  /** Columns of the box that may hold an ink. */
  columns(ink: number): readonly [number, number] {
    return [this.#from[ink]!, this.#to[ink]!]
  }

  /** Empties it. */
  clear(): void {
    this.inks.forEach((plane, k) => {
      if (this.#from[k]! < this.#to[k]!) plane.fill(0)
    })
    this.#from.fill(this.width)
    this.#to.fill(0)
    this.alpha.fill(0)
  }
}

/** What a group that is not isolated begins on: α C of each ink, and α, over its box. */
export interface Backdrop {
  readonly inks: readonly Float32Array[]
  readonly alpha: Float32Array
}

/**
 * What a group inside `surface` begins on: all that lies there, or, in a knock-out group, what that group itself began on
 * (ISO 32000-2, 11.4.6).
 * @param box  inside the surface's
 */
export function backdropOf(surface: Surface, box: PixelBox): Backdrop {
  const { backdrop } = surface
  const cut = (plane: Float32Array) => cutOut(plane, surface, box)
  if (surface.knockout) {
    const size = (box.right - box.left) * (box.bottom - box.top)
    if (backdrop !== null) return { inks: backdrop.inks.map(cut), alpha: cut(backdrop.alpha) }
    return { inks: surface.inks.map(() => new Float32Array(size)), alpha: new Float32Array(size) }
  }
  const alpha = cut(surface.alpha)
  if (backdrop !== null) {
    const below = cut(backdrop.alpha)
    for (let i = 0; i < alpha.length; i++) alpha[i]! += below[i]! * (1 - alpha[i]!)
  }
  return { inks: surface.inks.map(cut), alpha }
}

function cutOut(plane: Float32Array, from: Surface, box: PixelBox): Float32Array {
  const width = box.right - box.left
  const out = new Float32Array(width * (box.bottom - box.top))
  for (let y = box.top; y < box.bottom; y++) {
    const at = (y - from.box.top) * from.width + box.left - from.box.left
    out.set(plane.subarray(at, at + width), (y - box.top) * width)
  }
  return out
}
