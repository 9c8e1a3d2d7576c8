import type { MaterialMap } from '../material/map.ts'
import type { BoxMm } from './finding.ts'

type Size = Pick<MaterialMap, 'width' | 'height' | 'widthMm' | 'heightMm'>

/** Pixels of a map that something was found at: how many square millimetres, and the box around them. */
export class SpotArea {
  readonly #map: Size
  #left = Number.POSITIVE_INFINITY
  #right = -1
  #top = Number.POSITIVE_INFINITY
  #bottom = -1
  #pixels = 0

  constructor(map: Size) {
    this.#map = map
  }

  add(x: number, y: number): void {
    this.#pixels++
    if (x < this.#left) this.#left = x
    if (x > this.#right) this.#right = x
    if (y < this.#top) this.#top = y
    if (y > this.#bottom) this.#bottom = y
  }

  get pixels(): number {
    return this.#pixels
  }

  get mm2(): number {
    const { width, height, widthMm, heightMm } = this.#map
    return (this.#pixels * widthMm * heightMm) / (width * height)
  }

  /** Null where nothing was added. */
  get box(): BoxMm | null {
    if (this.#pixels === 0) return null
    return pixelBox(this.#map, {
      left: this.#left,
      top: this.#top,
      right: this.#right + 1,
      bottom: this.#bottom + 1,
    })
  }
}

/** Pixels, y down, right and bottom exclusive, as mm from the lower left corner. */
export function pixelBox(
  { width, height, widthMm, heightMm }: Size,
  box: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number },
): BoxMm {
  const x = widthMm / width
  const y = heightMm / height
  return {
    leftMm: box.left * x,
    bottomMm: heightMm - box.bottom * y,
    rightMm: box.right * x,
    topMm: heightMm - box.top * y,
  }
}
