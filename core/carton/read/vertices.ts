/**
 * Places that lines share: two nearer than a tolerance are one, and the first that came stays where it was. So places
 * do not creep along a row of near neighbours.
 */
export class Vertices {
  readonly x: number[] = []
  readonly y: number[] = []
  private readonly cells = new Map<number, number[]>()

  /** @param tolerance  mm, > 0 */
  constructor(private readonly tolerance: number) {}

  /** Number of the vertex at a place, new or known. */
  add(x: number, y: number): number {
    const [column, row] = [Math.floor(x / this.tolerance), Math.floor(y / this.tolerance)]
    let best = -1
    let least = this.tolerance
    for (let c = column - 1; c <= column + 1; c++)
      for (let r = row - 1; r <= row + 1; r++)
        for (const known of this.cells.get(keyOf(c, r)) ?? []) {
          const distance = Math.hypot(this.x[known]! - x, this.y[known]! - y)
          if (distance > least || (distance === least && best >= 0)) continue
          best = known
          least = distance
        }
    if (best >= 0) return best
    const key = keyOf(column, row)
    const cell = this.cells.get(key)
    const added = this.x.push(x) - 1
    this.y.push(y)
    if (cell === undefined) this.cells.set(key, [added])
    else cell.push(added)
    return added
  }
}

/** Cells up to 10 km at 0.1 mm have a number of their own. */
const keyOf = (column: number, row: number) => column * 2 ** 27 + row
