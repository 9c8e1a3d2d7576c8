import { filledBy, type Rings, shared } from '../../base/polygons.ts'
import { flatten, type LineSink } from '../ink/flatten.ts'
import type { Clip, FillRule, Matrix } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import { strokePath } from '../ink/stroke.ts'
import { contains, markBounds, pathBounds } from './bounds.ts'
import type { PaintMark } from './leaves.ts'
import { isBox } from './shapes.ts'

/** A line without width is as wide as a pixel of this resolution. */
const hairlinePpi = 1200
const perMm = hairlinePpi / 25.4
const toPixels: Matrix = [perMm, 0, 0, perMm, 0, 0]

/** How far straight pieces may leave a curve, pixels: 1 µm. */
const tolerance = 0.05

/** Makes rings of marks; clips that several share are worked out once. */
export class MarkRings {
  readonly #clips = new Map<Clip, Rings>()

  /**
   * What a mark covers, mm on the page: filled, or under the pen, and inside all clips.
   * @param clips chains of clips that it lies in
   */
  of(mark: PaintMark, clips: readonly Clip[]): Rings {
    const sink = new RingSink()
    if (mark.kind === 'fill') flatten(mark.path, toPixels, tolerance, sink)
    else strokePath(mark.path, mark.style, times(mark.matrix, toPixels), tolerance, sink)
    let rings = filledBy(sink.rings(), mark.kind === 'fill' ? mark.rule : 'nonzero')
    const bounds = markBounds({ ...mark, clip: null })
    for (const chain of clips)
      for (let clip: Clip | null = chain; clip !== null; clip = clip.within) {
        if (rings.length === 0) return rings
        if (isBox(clip.path) && contains(pathBounds(clip.path), bounds)) continue
        rings = shared(rings, this.#clip(clip))
      }
    return rings
  }

  #clip(clip: Clip): Rings {
    const known = this.#clips.get(clip)
    if (known) return known
    const made = pathRings(clip.path, clip.rule)
    this.#clips.set(clip, made)
    return made
  }
}

function pathRings(path: Clip['path'], rule: FillRule): Rings {
  const sink = new RingSink()
  flatten(path, toPixels, tolerance, sink)
  return filledBy(sink.rings(), rule)
}

/** Takes straight pieces in pixels, gives rings in mm. */
class RingSink implements LineSink {
  readonly #rings: [number, number][][] = []
  #open: [number, number][] = []

  move(x: number, y: number): void {
    this.#end()
    this.#open = [[x / perMm, y / perMm]]
  }

  line(x: number, y: number): void {
    this.#open.push([x / perMm, y / perMm])
  }

  close(): void {
    const start = this.#open[0]
    this.#end()
    // What goes on after a close begins where that began.
    this.#open = start === undefined ? [] : [start]
  }

  rings(): Rings {
    this.#end()
    this.#open = []
    return this.#rings
  }

  #end(): void {
    if (this.#open.length > 2) this.#rings.push(this.#open)
  }
}
