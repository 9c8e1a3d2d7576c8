import type { Surface } from '../art/composite.ts'
import type { Box } from '../art/layer.ts'

/**
 * A strip-by-strip picture read by rows from top to bottom: a strip stays only as long as its rows are asked for, so
 * that what needs a row of two strips (a map pixel that lies across them) finds it.
 */
export class SurfaceRows {
  readonly #strips: AsyncIterator<Surface, void, undefined>
  readonly #region: Box
  #held: Surface[] = []

  /** @param strips from the top of `region` to its bottom, all as wide as it */
  constructor(strips: AsyncIterable<Surface>, region: Box) {
    this.#strips = strips[Symbol.asyncIterator]()
    this.#region = region
  }

  /** The rows top..bottom that lie in the region, as one surface; null when there are none. `top` never goes back. */
  async over(top: number, bottom: number): Promise<Surface | null> {
    const from = Math.max(top, this.#region.top)
    const to = Math.min(bottom, this.#region.bottom)
    if (from >= to) return null
    this.#held = this.#held.filter(strip => strip.box.bottom > from)
    while ((this.#held.at(-1)?.box.bottom ?? this.#region.top) < to) {
      const next = await this.#strips.next()
      if (next.done) throw new Error(`rows ${from}..${to}: expected a strip, got the end of the picture`)
      if (next.value.box.bottom > from) this.#held.push(next.value)
    }
    const [only] = this.#held
    return this.#held.length === 1 && only ? only : join(this.#held)
  }
}

function join(strips: readonly Surface[]): Surface {
  const first = strips[0]!
  const box: Box = { ...first.box, bottom: strips.at(-1)!.box.bottom }
  const gather = (part: (strip: Surface) => Float32Array) => {
    const all = new Float32Array((box.right - box.left) * (box.bottom - box.top))
    let at = 0
    for (const strip of strips) {
      all.set(part(strip), at)
      at += part(strip).length
    }
    return all
  }
  return {
    box,
    planes: first.planes.map((_, i) => gather(strip => strip.planes[i]!)),
    alpha: gather(strip => strip.alpha),
  }
}
