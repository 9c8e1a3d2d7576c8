import type { Rings } from '../../base/polygons.ts'

/** Rings as they are kept: a corner takes a quarter of what an array of its own does. */
export interface PackedRings {
  /** x, y of each corner, ring after ring. */
  readonly corners: Float64Array
  /** Where each ring ends, in corners. */
  readonly ends: Uint32Array
}

export function packedRings(rings: Rings): PackedRings {
  const ends = new Uint32Array(rings.length)
  let count = 0
  for (const [i, ring] of rings.entries()) {
    count += ring.length
    ends[i] = count
  }
  const corners = new Float64Array(2 * count)
  let at = 0
  for (const ring of rings)
    for (const [x, y] of ring) {
      corners[at++] = x
      corners[at++] = y
    }
  return { corners, ends }
}

/** The same rings, number by number. */
export const ringsOf = ({ corners, ends }: PackedRings): Rings =>
  Array.from(ends, (end, i) => {
    const start = i === 0 ? 0 : ends[i - 1]!
    return Array.from({ length: end - start }, (_, k): readonly [number, number] => {
      const at = 2 * (start + k)
      return [corners[at]!, corners[at + 1]!]
    })
  })
