import type { InkField } from '../ink/mark.ts'

/** A shading as it is at points. */
export interface PointSource {
  readonly inks: readonly number[]
  /**
   * Reads `count` points in a row, the first at (x, y) page mm, each `step` further right: amounts to `out`, and 1 to
   * `painted` where the shading is at all, else 0.
   */
  line(
    x: number,
    y: number,
    step: number,
    count: number,
    out: readonly Float32Array[],
    painted: Uint8Array,
  ): void
}

/** Corners that differ by more are an edge: ten of 255. */
const edge = 0.04
/** An edge is read at as many places a side. */
const finer = 4

/**
 * A shading for squares of the page: what is at their middle, or, where their corners differ, the mean of 4 × 4 places.
 * @param ground amounts where the shading is not; null: nothing is painted there
 */
export function shadingField(source: PointSource, ground: readonly number[] | null): InkField {
  const { inks } = source
  let rooms: Rooms | null = null
  return {
    inks,
    row: (x, y, step, count, out, shape) => {
      if (rooms === null || rooms.size < count + 1) rooms = makeRooms(inks.length, count + 1)
      const { middle, few, fewPainted } = rooms
      source.line(x, y, step, count, out, middle)
      readCorners(source, rooms, x, y, step, count)
      for (let i = 0; i < count; i++) {
        if (isEdge(rooms, i, middle[i]!)) {
          const sums = inks.map(() => 0)
          let painted = 0
          for (let v = 0; v < finer; v++) {
            const inner = step / finer
            const left = x + i * step - step / 2 + inner / 2
            source.line(left, y - step / 2 + (v + 0.5) * inner, inner, finer, few, fewPainted)
            for (let u = 0; u < finer; u++) {
              if (fewPainted[u] === 0 && ground === null) continue
              painted++
              for (let k = 0; k < inks.length; k++)
                sums[k]! += fewPainted[u] === 0 ? ground![k]! : few[k]![u]!
            }
          }
          for (let k = 0; k < inks.length; k++) out[k]![i] = painted === 0 ? 0 : sums[k]! / painted
          shape[i] = painted / (finer * finer)
        } else if (middle[i] === 0) {
          for (let k = 0; k < inks.length; k++) out[k]![i] = ground === null ? 0 : ground[k]!
          shape[i] = ground === null ? 0 : 1
        } else shape[i] = 1
      }
    },
  }
}

/** Points along one side of a row of squares. */
interface Side {
  readonly amounts: readonly Float32Array[]
  readonly painted: Uint8Array
  x: number
  y: number
  step: number
  count: number
}

/** What one row needs beside its results. */
interface Rooms {
  readonly size: number
  below: Side
  above: Side
  readonly middle: Uint8Array
  readonly few: readonly Float32Array[]
  readonly fewPainted: Uint8Array
}

function makeRooms(inks: number, size: number): Rooms {
  const planes = (length: number) => Array.from({ length: inks }, () => new Float32Array(length))
  const side = (): Side => ({
    amounts: planes(size),
    painted: new Uint8Array(size),
    x: Number.NaN,
    y: Number.NaN,
    step: 0,
    count: 0,
  })
  return {
    size,
    below: side(),
    above: side(),
    middle: new Uint8Array(size),
    few: planes(finer),
    fewPainted: new Uint8Array(finer),
  }
}

/** The side that a row shares with the one before is not read again. */
function readCorners(
  source: PointSource,
  rooms: Rooms,
  x: number,
  y: number,
  step: number,
  count: number,
): void {
  const left = x - step / 2
  const holds = (side: Side, wanted: number) =>
    side.x === left && side.step === step && side.count >= count && Math.abs(side.y - wanted) < 1e-6 * step
  const [low, high] = [y - step / 2, y + step / 2]
  if (holds(rooms.above, low) || holds(rooms.below, high)) {
    const { below, above } = rooms
    rooms.below = above
    rooms.above = below
  }
  for (const [side, wanted] of [
    [rooms.below, low],
    [rooms.above, high],
  ] as const) {
    if (holds(side, wanted)) continue
    source.line(left, wanted, step, count + 1, side.amounts, side.painted)
    Object.assign(side, { x: left, y: wanted, step, count })
  }
}

function isEdge({ below: lower, above: upper }: Rooms, i: number, middle: number): boolean {
  const [below, above] = [lower.painted, upper.painted]
  const painted = below[i]! + below[i + 1]! + above[i]! + above[i + 1]!
  if (painted !== 4 * middle) return true
  if (painted === 0) return false
  for (let k = 0; k < lower.amounts.length; k++) {
    const [low, high] = [lower.amounts[k]!, upper.amounts[k]!]
    const least = Math.min(low[i]!, low[i + 1]!, high[i]!, high[i + 1]!)
    const most = Math.max(low[i]!, low[i + 1]!, high[i]!, high[i + 1]!)
    if (most - least > edge) return true
  }
  return false
}
