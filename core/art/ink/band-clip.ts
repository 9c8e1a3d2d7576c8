import type { ClipNode } from './clips.ts'
import { liesWithin } from './clips.ts'
import type { Coverage, PixelBox } from './coverage.ts'
import { allBounds, type Bounds, meet } from './outline.ts'
import { Runs, varied } from './runs.ts'

/** A clip, shifted as the copy of a cell is that it belongs to. */
export interface PlacedClip {
  readonly clip: ClipNode
  readonly dx: number
  readonly dy: number
}

/** What clips leave of a band: a rectangle, and masks of outlines that are multiplied. */
export interface BandClip {
  readonly rectangle: Bounds
  readonly masks: readonly ClipMask[]
}

interface ClipMask {
  readonly box: PixelBox
  /** 0..1, row by row. */
  readonly data: Float32Array
  /** Of each row of the box: columns of the page where the mask is 1, its longest run; from, and the one after. */
  readonly fullFrom: Int32Array
  readonly fullTo: Int32Array
}

/** Samples of masks that are kept for a band, at most: 32 MB. */
const mostKept = 8e6

/** Makes masks of clips for one band after another, and keeps them while the band lasts. */
export class BandClips {
  readonly #coverage: Coverage
  readonly #runs: readonly [Runs, Runs]
  readonly #use: (clip: ClipNode) => void
  readonly #masks = new Map<ClipNode, ClipMask | null>()
  #band: PixelBox = { left: 0, top: 0, right: 0, bottom: 0 }
  #kept = 0

  /** @param use  told of each clip whose edges are made */
  constructor(coverage: Coverage, width: number, use: (clip: ClipNode) => void) {
    this.#coverage = coverage
    this.#runs = [new Runs(width), new Runs(width)]
    this.#use = use
  }

  begin(band: PixelBox): void {
    this.#band = band
    this.#forget()
  }

  #forget(): void {
    this.#masks.clear()
    this.#kept = 0
  }

  /** What several clips leave together; null where that is everything. One that others lie within counts once. */
  of(clips: readonly PlacedClip[]): BandClip | null {
    if (clips.length === 0) return null
    let rectangle = allBounds
    const masks: ClipMask[] = []
    clips.forEach((placed, i) => {
      const isOuter = (other: PlacedClip, j: number) =>
        j !== i &&
        other.dx === placed.dx &&
        other.dy === placed.dy &&
        liesWithin(other.clip, placed.clip) &&
        (other.clip !== placed.clip || j < i)
      if (clips.some(isOuter)) return
      rectangle = meet(rectangle, shifted(placed.clip.rectangle, placed.dx, placed.dy))
      const mask = this.#mask(placed)
      if (mask !== null) masks.push(mask)
    })
    return { rectangle, masks }
  }

  /** The mask of a clip and all that it lies within; null where there are rectangles alone. */
  #mask({ clip, dx, dy }: PlacedClip): ClipMask | null {
    let node: ClipNode | null = clip
    while (node !== null && node.outline === null) node = node.within
    if (node === null) return null
    const keeps = dx === 0 && dy === 0
    const known = keeps ? this.#masks.get(node) : undefined
    if (known !== undefined) return known
    const within = node.within === null ? null : this.of([{ clip: node.within, dx, dy }])
    const mask = this.#make(node, within, dx, dy)
    if (keeps) {
      if (this.#kept > mostKept) this.#forget()
      this.#masks.set(node, mask)
      this.#kept += mask.data.length
    }
    return mask
  }

  #make(node: ClipNode, within: BandClip | null, dx: number, dy: number): ClipMask {
    const box = pixelsOf(shifted(node.bounds, dx, dy), this.#band)
    const width = Math.max(0, box.right - box.left)
    const rows = Math.max(0, box.bottom - box.top)
    const data = new Float32Array(width * rows)
    const fullFrom = new Int32Array(rows)
    const fullTo = new Int32Array(rows)
    const outline = node.outline!
    if (data.length > 0) {
      this.#use(node)
      this.#coverage.rows(
        outline.edges(),
        outline.rule,
        box,
        within?.rectangle ?? null,
        dx,
        dy,
        (y, covered) => {
          const runs = within === null ? covered : this.cut(covered, within, y, box.left)
          const row = y - box.top
          for (let r = 0; r < runs.count; r++) {
            const [from, to, value] = [runs.from[r]!, runs.to[r]!, runs.value[r]!]
            if (value === varied) data.set(runs.cover.subarray(from, to), row * width + from)
            else data.fill(value, row * width + from, row * width + to)
            if (value === 1 && to - from > fullTo[row]! - fullFrom[row]!) {
              fullFrom[row] = from + box.left
              fullTo[row] = to + box.left
            }
          }
        },
      )
    }
    return { box, data, fullFrom, fullTo }
  }

  /** What the masks of a clip leave of the runs of row y, which are numbered from `left`. Good until the next call. */
  cut(runs: Runs, clip: BandClip, y: number, left: number): Runs {
    let now = runs
    let spare = this.#runs[0]
    for (const mask of clip.masks) {
      multiply(now, spare, mask, y, left)
      now = spare
      spare = spare === this.#runs[0] ? this.#runs[1] : this.#runs[0]
    }
    return now
  }
}

/** What the rectangle of a clip covers of row y, of `length` pixels from `left`, into `out`. */
export function rectangleRuns(
  [l, t, r, b]: Bounds,
  y: number,
  left: number,
  length: number,
  out: Runs,
): void {
  out.count = 0
  const share = Math.min(b, y + 1) - Math.max(t, y)
  const [from, to] = [Math.max(0, l - left), Math.min(length, r - left)]
  if (share <= 0 || from >= to) return
  const [first, last] = [Math.ceil(from), Math.floor(to)]
  if (first > last) {
    out.pushPixel(last, (to - from) * share)
    return
  }
  if (from < first) out.pushPixel(first - 1, (first - from) * share)
  if (first < last) out.push(first, last, Math.min(1, share))
  if (last < to) out.pushPixel(last, (to - last) * share)
}

const shifted = ([l, t, r, b]: Bounds, dx: number, dy: number): Bounds => [l + dx, t + dy, r + dx, b + dy]

/** Whole pixels that bounds touch, inside a box. It may be empty: right <= left or bottom <= top. */
export const pixelsOf = (bounds: Bounds, inside: PixelBox): PixelBox => ({
  left: Math.max(inside.left, Math.floor(bounds[0])),
  top: Math.max(inside.top, Math.floor(bounds[1])),
  right: Math.min(inside.right, Math.ceil(bounds[2])),
  bottom: Math.min(inside.bottom, Math.ceil(bounds[3])),
})

function multiply(runs: Runs, out: Runs, mask: ClipMask, y: number, left: number): void {
  out.count = 0
  const { box, data } = mask
  if (y < box.top || y >= box.bottom) return
  const row = y - box.top
  const shift = left - box.left
  const at = row * (box.right - box.left) + shift
  const fullFrom = mask.fullFrom[row]! - left
  const fullTo = mask.fullTo[row]! - left
  for (let r = 0; r < runs.count; r++) {
    const from = Math.max(runs.from[r]!, -shift)
    const to = Math.min(runs.to[r]!, box.right - left)
    const value = runs.value[r]!
    for (let x = from; x < to; ) {
      if (value !== varied && x >= fullFrom && x < fullTo) {
        const end = Math.min(to, fullTo)
        out.push(x, end, value)
        x = end
        continue
      }
      const cover = (value === varied ? runs.cover[x]! : value) * data[at + x]!
      if (cover > 0) out.pushPixel(x, cover)
      x++
    }
  }
}
