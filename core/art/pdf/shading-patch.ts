import type { MeshBuilder } from './mesh-builder.ts'

type Point = readonly [number, number]

/** A surface of cubic curves both ways, and the colours of its corners. */
export interface Patch {
  /** 4 × 4, row by row; along a row u runs from 0 to 1, from row to row v. */
  readonly points: readonly Point[]
  /** At (u, v) = (0, 0), (0, 1), (1, 1), (1, 0). */
  readonly colors: readonly (readonly number[])[]
}

/** The four inner points of a patch that is given by its edges alone (Coons). Source: ISO 32000-2, 8.7.4.5.8. */
export function coonsInside(points: readonly Point[]): readonly Point[] {
  const p = (column: number, row: number, axis: 0 | 1) => points[4 * row + column]![axis]
  // From the corner that a point is nearest to: that corner, the two edge points beside it, and so on.
  const inner = (column: number, row: number, axis: 0 | 1): number => {
    const [nearX, farX] = column === 1 ? [0, 3] : [3, 0]
    const [nearY, farY] = row === 1 ? [0, 3] : [3, 0]
    return (
      (-4 * p(nearX, nearY, axis) +
        6 * (p(column, nearY, axis) + p(nearX, row, axis)) -
        2 * (p(nearX, farY, axis) + p(farX, nearY, axis)) +
        3 * (p(farX, row, axis) + p(column, farY, axis)) -
        p(farX, farY, axis)) /
      9
    )
  }
  return points.map((point, i) => {
    const [column, row] = [i % 4, Math.floor(i / 4)]
    const isInner = (column === 1 || column === 2) && (row === 1 || row === 2)
    return isInner ? [inner(column, row, 0), inner(column, row, 1)] : point
  })
}

/** Pieces of a patch each way. Curves are within a thousandth of their size of straight ones. */
const pieces = 20

export function addPatch(builder: MeshBuilder, { points, colors }: Patch): void {
  const corners: number[] = []
  const [c00, c01, c11, c10] = colors
  for (let j = 0; j <= pieces; j++) {
    const v = j / pieces
    const along = weights(v)
    for (let i = 0; i <= pieces; i++) {
      const u = i / pieces
      const across = weights(u)
      let [x, y] = [0, 0]
      for (let row = 0; row < 4; row++)
        for (let column = 0; column < 4; column++) {
          const weight = along[row]! * across[column]!
          x += weight * points[4 * row + column]![0]
          y += weight * points[4 * row + column]![1]
        }
      const color = c00!.map(
        (value, k) => (1 - v) * ((1 - u) * value + u * c10![k]!) + v * ((1 - u) * c01![k]! + u * c11![k]!),
      )
      corners.push(builder.corner(x, y, color))
    }
  }
  const at = (i: number, j: number) => corners[j * (pieces + 1) + i]!
  for (let j = 0; j < pieces; j++)
    for (let i = 0; i < pieces; i++) {
      builder.triangle(at(i, j), at(i + 1, j), at(i, j + 1))
      builder.triangle(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1))
    }
}

/** Of the four points of a cubic curve at t. */
function weights(t: number): readonly [number, number, number, number] {
  const s = 1 - t
  return [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t]
}
