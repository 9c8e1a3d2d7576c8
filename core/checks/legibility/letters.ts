import type { GlyphRaster } from './raster.ts'

/** A connected piece of glyph, mm. */
export interface Piece {
  readonly leftMm: number
  readonly bottomMm: number
  readonly rightMm: number
  readonly topMm: number
}

/** Connected pieces of a raster, corner to corner counting as touching. */
export function piecesOf({ inside, width, height, pixelMm, leftMm, topMm }: GlyphRaster): readonly Piece[] {
  const boxes = new Boxes()
  let above: Run[] = []
  for (let y = 0; y < height; y++) {
    const runs: Run[] = []
    let k = 0
    for (let x = 0; x < width; x++) {
      if (inside[y * width + x] === 0) continue
      const from = x
      while (x < width && inside[y * width + x] === 1) x++
      while (k < above.length && above[k]!.to < from) k++
      let box = -1
      for (let j = k; j < above.length && above[j]!.from <= x; j++) box = boxes.join(box, above[j]!.box)
      runs.push({ from, to: x, box: boxes.add(box, from, x, y) })
    }
    above = runs
  }
  return boxes.all().map(([left, top, right, bottom]) => ({
    leftMm: leftMm + left * pixelMm,
    rightMm: leftMm + right * pixelMm,
    topMm: topMm - top * pixelMm,
    bottomMm: topMm - bottom * pixelMm,
  }))
}

/** Glyph pixels of one row from `from`, included, to `to`, not; and the number of its piece. */
interface Run {
  readonly from: number
  readonly to: number
  readonly box: number
}

/** Boxes of pieces that may turn out to be one. */
class Boxes {
  readonly #parent: number[] = []
  readonly #box: [number, number, number, number][] = []

  add(box: number, from: number, to: number, y: number): number {
    if (box < 0) {
      this.#parent.push(this.#parent.length)
      this.#box.push([from, y, to, y + 1])
      return this.#parent.length - 1
    }
    const own = this.#box[box]!
    own[0] = Math.min(own[0], from)
    own[2] = Math.max(own[2], to)
    own[3] = Math.max(own[3], y + 1)
    return box
  }

  /** Number of the piece that two pieces are; -1 is none. */
  join(a: number, b: number): number {
    const [one, other] = [a < 0 ? -1 : this.#root(a), this.#root(b)]
    if (one < 0 || one === other) return other
    this.#parent[other] = one
    const [to, from] = [this.#box[one]!, this.#box[other]!]
    to[0] = Math.min(to[0], from[0])
    to[1] = Math.min(to[1], from[1])
    to[2] = Math.max(to[2], from[2])
    to[3] = Math.max(to[3], from[3])
    return one
  }

  all(): readonly (readonly [number, number, number, number])[] {
    return this.#box.filter((_, i) => this.#parent[i] === i)
  }

  #root(i: number): number {
    while (this.#parent[i] !== i) i = this.#parent[i]!
    return i
  }
}
