import type { Point } from '../die.ts'
import type { Fold } from './creases.ts'
import type { RawPanel } from './panels.ts'

/** The four walls that wrap around the goods, in the order of the strip, and the flap that closes the ring. */
export interface Body {
  /** Numbers of the panels, along `along`. */
  readonly walls: readonly [number, number, number, number]
  readonly glueFlap: number | null
  /** The glue flap hangs on the last wall and not on the first. */
  readonly glueLast: boolean
  /** Unit vector from the first wall to the last; the top of the carton is counter-clockwise of it. */
  readonly along: Point
}

/**
 * The body of a folding carton: four panels in a row that parallel creases part, each as wide as the next but one.
 * Null where the drawing has none.
 */
export function bodyOf(panels: readonly RawPanel[], folds: readonly Fold[]): Body | null {
  for (const along of [
    [1, 0],
    [0, 1],
  ] as const)
    for (const chain of chainsAlong(panels, folds, along)) {
      const body = wallsOf(panels, folds, chain, along)
      if (body !== null) return body
    }
  return null
}

/** Within 5° of a direction. */
const aligned = Math.cos((5 * Math.PI) / 180)

/** Rows of panels between creases across a direction, longest first. */
function chainsAlong(
  panels: readonly RawPanel[],
  folds: readonly Fold[],
  [ax, ay]: Point,
): readonly (readonly number[])[] {
  const across = folds.filter(({ from, to }) => {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
    return Math.abs(dx * -ay + dy * ax) > aligned * Math.hypot(dx, dy)
  })
  const longest = across.reduce((most, fold) => Math.max(most, foldLength(fold)), 0)
  const next = new Map<number, number>()
  const hasBefore = new Set<number>()
  for (const fold of across) {
    // Body creases run the whole height; what is much shorter folds something else.
    if (foldLength(fold) < 0.6 * longest) continue
    const [p, q] = fold.panels
    const first = dot(panels[p]!.center, ax, ay) < dot(panels[q]!.center, ax, ay) ? p : q
    const second = first === p ? q : p
    if (next.has(first) || hasBefore.has(second)) continue
    next.set(first, second)
    hasBefore.add(second)
  }
  return panels
    .flatMap((_, start) => {
      if (hasBefore.has(start) || !next.has(start)) return []
      const chain = [start]
      for (let at = next.get(start); at !== undefined; at = next.get(at)) chain.push(at)
      return [chain]
    })
    .sort((a, b) => b.length - a.length)
}

function wallsOf(
  panels: readonly RawPanel[],
  folds: readonly Fold[],
  chain: readonly number[],
  along: Point,
): Body | null {
  if (chain.length < 4 || chain.length > 5) return null
  const width = (panel: number) => {
    const creases = folds.filter(fold => fold.panels.includes(panel) && isAcross(fold, along))
    const at = creases.flatMap(({ from, to }) => [dot(from, ...along), dot(to, ...along)])
    const all = panels[panel]!.outline.map(point => dot(point, ...along))
    const inner = chain.indexOf(panel) > 0 && chain.indexOf(panel) < chain.length - 1
    const of = inner ? at : all
    return Math.max(...of) - Math.min(...of)
  }
  const alike = (p: number, q: number) =>
    Math.abs(width(p) - width(q)) <= Math.max(4, 0.08 * Math.max(width(p), width(q)))
  for (const start of chain.length === 5 ? [1, 0] : [0]) {
    const walls = chain.slice(start, start + 4)
    const [a, b, c, d] = walls
    if (!alike(a!, c!) || !alike(b!, d!)) continue
    const rest = chain.filter(panel => !walls.includes(panel))
    const glueFlap = rest[0] ?? null
    if (glueFlap !== null && width(glueFlap) > 0.8 * Math.max(width(a!), width(b!))) continue
    const glueLast = glueFlap !== null && start === 0
    // A strip that stands upright is read from its glue flap on.
    const turned = along[1] !== 0 && glueLast
    return {
      walls: turned ? [d!, c!, b!, a!] : [a!, b!, c!, d!],
      glueFlap,
      glueLast: glueLast && !turned,
      along: turned ? [-along[0], -along[1]] : along,
    }
  }
  return null
}

function isAcross({ from, to }: Fold, [ax, ay]: Point): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  return Math.abs(dx * -ay + dy * ax) > aligned * Math.hypot(dx, dy)
}

export const foldLength = ({ from, to }: Fold): number => Math.hypot(to[0] - from[0], to[1] - from[1])

const dot = ([x, y]: Point, ax: number, ay: number) => x * ax + y * ay
