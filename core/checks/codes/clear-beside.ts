import { edgesOf, elementsOf, type ScanProfile } from './profile.ts'

/** Light ground on both sides of the symbol, mm, from its first and last bar outwards. */
export function clearBeside(
  profile: ScanProfile,
  stepMm: number,
  beforeMm: number,
  lengthMm: number,
): readonly [before: number, after: number] {
  const elements = elementsOf(profile)
  const edges = edgesOf(profile, elements)
  const from = beforeMm / stepMm
  const to = (beforeMm + lengthMm) / stepMm
  // The edge nearest to where the symbol begins is its own; the one before it ends the ground.
  const begins = nearest(edges, from)
  const ends = nearest(edges, to)
  if (begins < 0 || ends < 0) return [0, 0]
  const before = (edges[begins]! - (edges[begins - 1] ?? 0)) * stepMm
  const after = ((edges[ends + 1] ?? profile.length - 1) - edges[ends]!) * stepMm
  return [before, after]
}

function nearest(edges: readonly number[], place: number): number {
  let best = -1
  for (let i = 0; i < edges.length; i++)
    if (best < 0 || Math.abs(edges[i]! - place) < Math.abs(edges[best]! - place)) best = i
  return best
}
