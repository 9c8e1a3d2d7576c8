import type { PixelBox } from './coverage.ts'
import type { ProcessSpace } from './mark.ts'

/** What the first inks of a surface are, which blend modes that need a whole colour must know. */
export type Process = ProcessSpace | 'none'

/**
 * What the marks of one group have come to inside a box (ISO 32000-2, 11.4). Amounts of ink are kept times the opacity
 * that they are seen with, α C: so composing needs no division, and what is left on white paper is the amount itself.
 * An ink has a plane of its own once it is changed.
 */
export class Surface {
  readonly width: number
  readonly rows: number
  /** Opacity of the group alone. */
  readonly alpha: Float32Array
  /** Shape of the group alone; null where nothing that it is laid into asks for it. */
  readonly shape: Float32Array | null
  readonly #planes: (Float32Array | null)[]
  /** Columns of the box in which a plane is not 0 everywhere: from, and the one after. */
  readonly #from: Int32Array
  readonly #to: Int32Array

  /**
   * @param count     inks
   * @param backdrop  what the group begins on (11.4.4); null for an isolated group, which begins on nothing
   */
  constructor(
    public box: PixelBox,
    readonly process: Process,
    readonly count: number,
    readonly knockout: boolean,
    keepsShape: boolean,
    readonly backdrop: Backdrop | null,
  ) {
    this.width = box.right - box.left
    this.rows = box.bottom - box.top
    const size = this.width * this.rows
    this.alpha = new Float32Array(size)
    this.shape = keepsShape ? new Float32Array(size) : null
    this.#planes = new Array(count).fill(null)
    this.#from = new Int32Array(count).fill(this.width)
    this.#to = new Int32Array(count)
  }

  /** α C of an ink, where α counts what the group began on, row by row; null where there is none of it. To be read. */
  plane(ink: number): Float32Array | null {
    return this.#planes[ink] ?? this.backdrop?.plane(ink) ?? null
  }

  /** The same, to be written in these columns of the page. */
  write(ink: number, left: number, right: number): Float32Array {
    let plane = this.#planes[ink] ?? null
    if (plane === null) {
      const begun = this.backdrop?.plane(ink) ?? null
      plane = begun?.slice() ?? new Float32Array(this.width * this.rows)
      this.#planes[ink] = plane
      if (begun !== null) {
        this.#from[ink] = 0
        this.#to[ink] = this.width
      }
    }
    this.#from[ink] = Math.min(this.#from[ink]!, left - this.box.left)
    this.#to[ink] = Math.max(this.#to[ink]!, right - this.box.left)
    return plane
  }

  isChanged(ink: number): boolean {
    return this.#planes[ink] !== null
  }

  /** Whether there may be any of an ink in these columns of the page. */
  holds(ink: number, left: number, right: number): boolean {
    if (this.#planes[ink] === null) return this.plane(ink) !== null
    return this.#from[ink]! < right - this.box.left && this.#to[ink]! > left - this.box.left
  }

  /** Empties it, to be used for other rows. */
  clear(box: PixelBox): void {
    this.#planes.forEach((plane, ink) => {
      if (this.#from[ink]! < this.#to[ink]!) plane?.fill(0)
    })
    this.#from.fill(this.width)
    this.#to.fill(0)
    this.alpha.fill(0)
    this.box = box
  }
}

/**
 * What a group that is not isolated begins on inside `surface`: all that lies there, or, in a knock-out group, what that
 * group itself began on (ISO 32000-2, 11.4.6). Planes are cut out when they are first asked for.
 */
export class Backdrop {
  readonly #planes: (Float32Array | null | undefined)[] = []
  #alpha: Float32Array | null = null

  /** @param box  inside the surface's */
  constructor(
    readonly surface: Surface,
    readonly box: PixelBox,
  ) {}

  /** α C of an ink over the box; null where there is none of it. */
  plane(ink: number): Float32Array | null {
    const known = this.#planes[ink]
    if (known !== undefined) return known
    const { surface } = this
    const from = surface.knockout ? (surface.backdrop?.plane(ink) ?? null) : surface.plane(ink)
    const made = from === null ? null : this.#cut(from)
    this.#planes[ink] = made
    return made
  }

  /** Opacity of what lies there. */
  get alpha(): Float32Array {
    if (this.#alpha !== null) return this.#alpha
    const { alpha, backdrop, knockout } = this.surface
    const begun = backdrop === null ? null : this.#cut(backdrop.alpha)
    this.#alpha = knockout ? (begun ?? new Float32Array(this.#size)) : this.#cut(alpha)
    if (!knockout && begun !== null) {
      const sum = this.#alpha
      for (let i = 0; i < sum.length; i++) sum[i]! += begun[i]! * (1 - sum[i]!)
    }
    return this.#alpha
  }

  get #size(): number {
    return (this.box.right - this.box.left) * (this.box.bottom - this.box.top)
  }

  #cut(plane: Float32Array): Float32Array {
    const { box, surface } = this
    const width = box.right - box.left
    const out = new Float32Array(this.#size)
    for (let y = box.top; y < box.bottom; y++) {
      const at = (y - surface.box.top) * surface.width + box.left - surface.box.left
      out.set(plane.subarray(at, at + width), (y - box.top) * width)
    }
    return out
  }
}
