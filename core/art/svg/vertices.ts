import type { PathStep } from '../../base/svg-path.ts'

type Point = readonly [x: number, y: number]

/** A corner or an end of a line, with the way in which the line goes there. */
export interface Vertex {
  readonly at: Point
  /** Direction of the line as it comes in and as it goes out, radians in its own units; null where there is none. */
  readonly into: number | null
  readonly out: number | null
}

interface Leg {
  readonly to: Point
  /** Directions at both ends; null for a leg without length. */
  readonly begins: number | null
  readonly ends: number | null
  /** It ends on the way of an arc, where the drawing has no vertex. */
  readonly inner: boolean
}

/**
 * The vertices of a path, in order: one where each part begins and one for each step. The ends of a closed part have both
 * directions. Source: SVG 1.1, sections 11.6.2 and F.5.
 */
export function verticesOf(steps: readonly PathStep[]): readonly Vertex[] {
  return partsOf(steps).flatMap(({ start, legs, closed }) => {
    const known = (legs: readonly Leg[], end: 'begins' | 'ends') =>
      legs.map(leg => leg[end]).find(way => way !== null) ?? null
    const vertices: Vertex[] = []
    for (let i = 0; i <= legs.length; i++) {
      if (i > 0 && legs[i - 1]!.inner) continue
      // A leg without length goes on as the one before it, or as the one behind it.
      const before = known(legs.slice(0, i).toReversed(), 'ends')
      const behind = known(legs.slice(i), 'begins')
      const isEnd = i === 0 || i === legs.length
      const into = isEnd && closed ? known(legs.toReversed(), 'ends') : before
      const out = isEnd && closed ? known(legs, 'begins') : behind
      vertices.push({ at: i === 0 ? start : legs[i - 1]!.to, into, out })
    }
    return vertices
  })
}

interface Part {
  readonly start: Point
  readonly legs: Leg[]
  closed: boolean
}

function partsOf(steps: readonly PathStep[]): readonly Part[] {
  const parts: Part[] = []
  let at: Point = [0, 0]
  const part = (): Part => {
    const last = parts.at(-1)
    if (last !== undefined && !last.closed) return last
    const fresh: Part = { start: at, legs: [], closed: false }
    parts.push(fresh)
    return fresh
  }
  for (const step of steps) {
    switch (step.kind) {
      case 'move':
        parts.push({ start: step.to, legs: [], closed: false })
        break
      case 'line':
        part().legs.push(legOf([at, step.to], false))
        break
      case 'curve':
        part().legs.push(legOf([at, step.out, step.into, step.to], step.inner === true))
        break
      case 'close': {
        const own = part()
        own.legs.push(legOf([at, own.start], false))
        own.closed = true
        at = own.start
        break
      }
    }
    if (step.kind !== 'close') at = step.to
  }
  return parts
}

function legOf(points: readonly Point[], inner: boolean): Leg {
  const [from, to] = [points[0]!, points.at(-1)!]
  const differs = (p: Point, q: Point) => p[0] !== q[0] || p[1] !== q[1]
  const next = points.find(point => differs(point, from))
  const last = points.findLast(point => differs(point, to))
  return {
    to,
    begins: next === undefined ? null : Math.atan2(next[1] - from[1], next[0] - from[0]),
    ends: last === undefined ? null : Math.atan2(to[1] - last[1], to[0] - last[0]),
    inner,
  }
}

/** The direction between that of the way in and that of the way out; 0 where there is neither. */
export function directionAt({ into, out }: Vertex): number {
  if (into === null || out === null) return into ?? out ?? 0
  const turn = Math.atan2(Math.sin(out - into), Math.cos(out - into))
  return into + turn / 2
}
