import type { MaterialMap } from '../material/map.ts'
import type { LaidLeaf } from './overlay-lay.ts'
import type { MapSampler } from './sample.ts'
import type { Site } from './site.ts'

/** Inks and whites of one place of a leaf. */
export interface Crossed {
  /** Whether it is on the leaf at all. */
  on: boolean
  readonly inks: Float64Array
  readonly spots: Float64Array
  readonly whites: Float64Array
  unevenness: number
}

export function emptyCrossed({ inks, spots, whites }: Site): Crossed {
  return {
    on: false,
    inks: new Float64Array(inks.length),
    spots: new Float64Array(spots.length),
    whites: new Float64Array(whites.length),
    unevenness: 0,
  }
}

/** Reads leaves that have the panel's outline and lie anywhere. */
export class LeafSampler {
  readonly #pyramid: readonly MaterialMap[]
  readonly #samplers: readonly MapSampler[]

  constructor(pyramid: readonly MaterialMap[], samplers: readonly MapSampler[]) {
    this.#pyramid = pyramid
    this.#samplers = samplers
  }

  /** Sets the board of a site at (x, y), mm from the panel's middle; false beside it. */
  board(x: number, y: number, level: number, site: Site): boolean {
    const at = this.#texel(x, y, level)
    if (at < 0) return false
    const { width } = this.#pyramid[level]!
    this.#samplers[level]!.fill(at % width, (at / width) | 0, site)
    return true
  }

  /** Sets the inks of a place where a ray meets that leaf; none beside it or where it is hidden. */
  inks({ shown, x: middleX, y: middleY }: LaidLeaf, x: number, y: number, level: number, out: Crossed): void {
    const at = this.#texel(x - middleX, y - middleY, level)
    out.on = at >= 0
    if (!shown || at < 0) {
      out.inks.fill(0)
      out.spots.fill(0)
      return
    }
    const { width } = this.#pyramid[level]!
    this.#samplers[level]!.fillInks(at % width, (at / width) | 0, out)
  }

  /** The same of the whites. */
  whites(
    { shown, x: middleX, y: middleY }: LaidLeaf,
    x: number,
    y: number,
    level: number,
    out: Crossed,
  ): void {
    const at = this.#texel(x - middleX, y - middleY, level)
    out.on = at >= 0
    if (!shown || at < 0) {
      out.whites.fill(0)
      out.unevenness = 0
      return
    }
    const { width } = this.#pyramid[level]!
    this.#samplers[level]!.fillWhites(at % width, (at / width) | 0, out)
  }

  #texel(x: number, y: number, level: number): number {
    const { widthMm, heightMm } = this.#pyramid[0]!
    const u = x / widthMm + 0.5
    const v = 0.5 - y / heightMm
    if (!(u >= 0 && u < 1 && v >= 0 && v < 1)) return -1
    const { width, height } = this.#pyramid[level]!
    return ((v * height) | 0) * width + ((u * width) | 0)
  }
}
