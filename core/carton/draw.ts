import { grown } from '../base/polygons.ts'
import type { Hinge, Panel } from './blank.ts'
import type { Die, DieLine, LineKind, Outline, Point } from './die.ts'

/** Places nearer than this are one place, mm. */
const together = 1e-6

interface Drawn {
  readonly panels: readonly Panel[]
  readonly hinges: readonly Hinge[]
  readonly glue: readonly Outline[]
  /** Rules by the name of a hinge, where it is not creased. */
  readonly rules: Readonly<Record<string, LineKind>>
  /** How far art reaches over the cut, mm, ≥ 0. */
  readonly bleedMm: number
}

/** The die of panels and hinges: a crease a hinge, and a cut wherever else a panel ends. Shared edges are cut once. */
export function dieOf({ panels, hinges, glue, rules, bleedMm }: Drawn): Die {
  const creases = hinges.map(
    ({ name, from, to }): DieLine => ({ kind: rules[name] ?? 'crease', points: [from, to] }),
  )
  const edges = panels.flatMap(({ outline }) =>
    outline.map((from, i): Edge => [from, outline[(i + 1) % outline.length]!]),
  )
  const taken: Edge[] = hinges.map(({ from, to }) => [from, to])
  const cuts: Edge[] = []
  for (const edge of edges) {
    const left = taken
      .filter(other => boxesTouch(edge, other))
      .reduce<readonly Edge[]>((parts, other) => parts.flatMap(part => without(part, other)), [edge])
    cuts.push(...left)
    taken.push(...left)
  }
  return {
    lines: [...chained(cuts).map((points): DieLine => ({ kind: 'cut', points })), ...creases],
    glue,
    bleed: grown(
      panels.map(panel => panel.outline),
      bleedMm,
    ),
  }
}

type Edge = readonly [from: Point, to: Point]

function boxesTouch([a, b]: Edge, [p, q]: Edge): boolean {
  return (
    Math.min(a[0], b[0]) <= Math.max(p[0], q[0]) + together &&
    Math.min(p[0], q[0]) <= Math.max(a[0], b[0]) + together &&
    Math.min(a[1], b[1]) <= Math.max(p[1], q[1]) + together &&
    Math.min(p[1], q[1]) <= Math.max(a[1], b[1]) + together
  )
}

/** What of an edge does not lie on another one. */
function without(edge: Edge, [p, q]: Edge): readonly Edge[] {
  const [a, b] = edge
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  if (length < together) return []
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
  const aside = ([x, y]: Point) => Math.abs((x - a[0]) * uy - (y - a[1]) * ux)
  if (aside(p) > together || aside(q) > together) return [edge]
  const along = ([x, y]: Point) => (x - a[0]) * ux + (y - a[1]) * uy
  const first = Math.max(0, Math.min(along(p), along(q)))
  const last = Math.min(length, Math.max(along(p), along(q)))
  if (last - first < together) return [edge]
  const at = (t: number): Point => [a[0] + ux * t, a[1] + uy * t]
  return [
    ...(first > together ? [[a, at(first)] as const] : []),
    ...(length - last > together ? [[at(last), b] as const] : []),
  ]
}

/** Edges tied end to end into lines as long as they go. */
function chained(edges: readonly Edge[]): readonly (readonly Point[])[] {
  const key = ([x, y]: Point) => `${Math.round(x * 1e5)} ${Math.round(y * 1e5)}`
  const meeting = new Map<string, Edge[]>()
  for (const edge of edges)
    for (const end of edge) meeting.set(key(end), [...(meeting.get(key(end)) ?? []), edge])
  const used = new Set<Edge>()
  const onward = (line: Point[]) => {
    for (;;) {
      const end = line.at(-1)!
      const around = meeting.get(key(end))!
      const next = around.length === 2 ? around.find(edge => !used.has(edge)) : undefined
      if (next === undefined) return
      used.add(next)
      line.push(key(next[0]) === key(end) ? next[1] : next[0])
    }
  }
  return edges.flatMap(edge => {
    if (used.has(edge)) return []
    used.add(edge)
    const line: Point[] = [...edge]
    onward(line)
    line.reverse()
    onward(line)
    return [line]
  })
}
