import type { Rings } from '../../base/polygons.ts'
import { insideOf } from './inside.ts'

/** Pieces of the first group's edge that the second's runs beside: what can open when they slip. */
export interface SharedEdges {
  readonly count: number
  /** Middle of each piece, mm. */
  readonly x: Float64Array
  readonly y: Float64Array
  /** Out of the first group, unit vector. */
  readonly nx: Float64Array
  readonly ny: Float64Array
  /** Mm of edge that each stands for. */
  readonly length: Float64Array
  /** Mm from the first group's edge outward to the second's. */
  readonly gap: Float64Array
  /** 1 where the two lie on different sides. */
  readonly opposed: Uint8Array
}

/** Longest piece of an edge, mm: over it a turn of the group changes nothing to speak of. */
const longestPiece = 1
/** Cosine between two edges that run side by side. */
const sideBySide = 0.7
/** An edge nearer than this to the art's own is where the art ends, not where a shape does, mm. */
const atFrame = 0.05

/**
 * @param frame     size of the art, mm: edges along it are left out, what lies beyond is not known
 * @param reachMm   how far the second edge may be
 * @param hiddenBy  where nothing shows that opens; null: nowhere
 */
export function sharedEdges(
  a: Rings,
  b: Rings,
  frame: { readonly widthMm: number; readonly heightMm: number },
  reachMm: number,
  hiddenBy: Rings | null = null,
): SharedEdges {
  const sides = new SideIndex(b, frame)
  const hidden = hiddenBy === null ? null : insideOf(hiddenBy)
  const found: number[] = []
  for (const ring of a)
    ring.forEach(([bx, by], i) => {
      const [ax, ay] = ring[(i + ring.length - 1) % ring.length]!
      const whole = Math.hypot(bx - ax, by - ay)
      if (whole === 0 || alongFrame(frame, ax, ay, bx, by)) return
      const [nx, ny] = [(by - ay) / whole, (ax - bx) / whole]
      const pieces = Math.ceil(whole / longestPiece)
      for (let k = 0; k < pieces; k++) {
        const part = (k + 0.5) / pieces
        const [x, y] = [ax + part * (bx - ax), ay + part * (by - ay)]
        const near = sides.nearest(x, y, nx, ny, reachMm)
        if (near === null) continue
        // Just outside of both edges.
        const beyond = Math.max(0, near.gap) + 0.03
        if (hidden?.(x + beyond * nx, y + beyond * ny) || hidden?.(x - 0.03 * nx, y - 0.03 * ny)) continue
        found.push(x, y, nx, ny, whole / pieces, near.gap, near.opposed ? 1 : 0)
      }
    })
  const count = found.length / fields
  const column = (c: number) => Float64Array.from({ length: count }, (_, i) => found[fields * i + c]!)
  return {
    count,
    x: column(0),
    y: column(1),
    nx: column(2),
    ny: column(3),
    length: column(4),
    gap: column(5),
    opposed: Uint8Array.from({ length: count }, (_, i) => found[fields * i + 6]!),
  }
}

const fields = 7

function alongFrame(
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  ax: number,
  ay: number,
  bx: number,
  by: number,
): boolean {
  const on = (p: number, q: number, at: number) => Math.abs(p - at) < atFrame && Math.abs(q - at) < atFrame
  return on(ax, bx, 0) || on(ax, bx, widthMm) || on(ay, by, 0) || on(ay, by, heightMm)
}

/** Sides of rings by squares that they come near. */
class SideIndex {
  readonly #cells = new Map<number, number[]>()
  readonly #sides: number[] = []

  constructor(rings: Rings, frame: { readonly widthMm: number; readonly heightMm: number }) {
    for (const ring of rings)
      ring.forEach(([bx, by], i) => {
        const [ax, ay] = ring[(i + ring.length - 1) % ring.length]!
        if ((ax === bx && ay === by) || alongFrame(frame, ax, ay, bx, by)) return
        const number = this.#sides.length / 4
        this.#sides.push(ax, ay, bx, by)
        this.#enter(number, ax, ay, bx, by)
      })
  }

  /** A long side goes into the squares along it, not into its whole box. */
  #enter(number: number, ax: number, ay: number, bx: number, by: number): void {
    const pieces = Math.ceil(Math.hypot(bx - ax, by - ay) / cellMm)
    const entered = new Set<number>()
    for (let k = 0; k < pieces; k++) {
      const [fx, fy] = [ax + ((bx - ax) * k) / pieces, ay + ((by - ay) * k) / pieces]
      const [tx, ty] = [ax + ((bx - ax) * (k + 1)) / pieces, ay + ((by - ay) * (k + 1)) / pieces]
      const lastColumn = cellOf(Math.max(fx, tx) + rimMm)
      const lastRow = cellOf(Math.max(fy, ty) + rimMm)
      for (let row = cellOf(Math.min(fy, ty) - rimMm); row <= lastRow; row++)
        for (let column = cellOf(Math.min(fx, tx) - rimMm); column <= lastColumn; column++)
          entered.add(cellKey(column, row))
    }
    for (const key of entered) {
      const cell = this.#cells.get(key)
      if (cell) cell.push(number)
      else this.#cells.set(key, [number])
    }
  }

  /** The nearest side that the line through (x, y) along (nx, ny) crosses within reach, if it runs side by side. */
  nearest(
    x: number,
    y: number,
    nx: number,
    ny: number,
    reachMm: number,
  ): { readonly gap: number; readonly opposed: boolean } | null {
    let gap = Number.POSITIVE_INFINITY
    let opposed = false
    let last = -1
    // From the middle outward, so that a near side ends the search.
    for (let step = 0; step * rimMm <= reachMm + rimMm; step++) {
      if (Math.abs(gap) < (step - 1) * rimMm) break
      for (const sense of step === 0 ? [1] : [1, -1]) {
        const at = sense * step * rimMm
        const key = cellKey(cellOf(x + at * nx), cellOf(y + at * ny))
        if (key === last) continue
        last = key
        for (const number of this.#cells.get(key) ?? []) {
          const ax = this.#sides[4 * number]!
          const ay = this.#sides[4 * number + 1]!
          const ex = this.#sides[4 * number + 2]! - ax
          const ey = this.#sides[4 * number + 3]! - ay
          const length = Math.hypot(ex, ey)
          const along = (ey * nx - ex * ny) / length
          if (Math.abs(along) < sideBySide) continue
          // (x, y) + s n = a + t e
          const det = ex * ny - ey * nx
          const t = ((x - ax) * ny - (y - ay) * nx) / det
          if (t < 0 || t > 1) continue
          const s = ((x - ax) * ey - (y - ay) * ex) / det
          if (Math.abs(s) < Math.abs(gap)) {
            gap = s
            opposed = along < 0
          }
        }
      }
    }
    return Math.abs(gap) <= reachMm ? { gap, opposed } : null
  }
}

const cellMm = 1
/** Sides are entered this far around them, and lines are walked in such steps. */
const rimMm = 0.25
const cellOf = (mm: number) => Math.floor(mm / cellMm)
const cellKey = (column: number, row: number) => row * 65_536 + column
