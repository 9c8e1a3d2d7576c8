import type { Blank } from '../../carton/blank.ts'
import type { Point } from '../../carton/die.ts'
import { inside } from '../../reference/solid.ts'
import type { BoxMm } from '../finding.ts'
import { distanceTo } from '../on-art.ts'
import type { SymbolFrame } from './scan.ts'

/** Corners of a symbol with ground round it, mm. @param round before, after, above and below */
export function cornersOf(
  { start, across, down, lengthMm, heightMm }: SymbolFrame,
  [before, after, above, below]: readonly [number, number, number, number] = [0, 0, 0, 0],
): readonly Point[] {
  const at = (u: number, v: number): Point => [
    start[0] + across[0] * u + down[0] * v,
    start[1] + across[1] * u + down[1] * v,
  ]
  return [
    at(-before, -above),
    at(lengthMm + after, -above),
    at(lengthMm + after, heightMm + below),
    at(-before, heightMm + below),
  ]
}

export function boxAround(points: readonly Point[], roundMm = 0): BoxMm {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  return {
    leftMm: Math.min(...xs) - roundMm,
    bottomMm: Math.min(...ys) - roundMm,
    rightMm: Math.max(...xs) + roundMm,
    topMm: Math.max(...ys) + roundMm,
  }
}

export const overlaps = (a: BoxMm, b: BoxMm): boolean =>
  a.leftMm < b.rightMm && a.rightMm > b.leftMm && a.bottomMm < b.topMm && a.topMm > b.bottomMm

/** Something that a code should stay away from. */
export interface Nearness {
  /** In words: `the crease "lid"`. */
  readonly what: string
  /** From the symbol with its light margins; 0 where they meet. */
  readonly mm: number
}

/**
 * Creases, cuts and glued flaps near a code, on every panel that shows it, the nearest first.
 * @param corners of the symbol with its margins, in the art
 * @param places  lower left corner of the art on the blank, by panel
 */
export function nearLines(
  blank: Blank,
  places: ReadonlyMap<string, Point>,
  corners: readonly Point[],
): readonly Nearness[] {
  const found: Nearness[] = []
  for (const [name, corner] of places) {
    const panel = blank.panels.find(one => one.name === name)
    if (panel === undefined) continue
    const on = corners.map(([x, y]): Point => [x + corner[0], y + corner[1]])
    const { leftMm, rightMm, bottomMm, topMm } = boxAround(on)
    if (!inside(panel.outline, (leftMm + rightMm) / 2, (bottomMm + topMm) / 2)) continue
    if (/glue/i.test(name)) found.push({ what: `the glued flap "${name}"`, mm: 0 })
    for (const zone of blank.die.glue) {
      const sides = zone.map((point, i) => between(on, [point, zone[(i + 1) % zone.length]!]))
      found.push({ what: 'a glued area', mm: inside(zone, ...on[0]!) ? 0 : Math.min(...sides) })
    }
    const hinges = blank.hinges.filter(({ parent, child }) => parent === name || child === name)
    for (const hinge of hinges)
      found.push({ what: `the crease "${hinge.name}"`, mm: between(on, [hinge.from, hinge.to]) })
    const cuts = panel.outline.flatMap((point, i): readonly [Point, Point][] => {
      const next = panel.outline[(i + 1) % panel.outline.length]!
      return hinges.some(({ from, to }) => liesOn(point, next, from, to)) ? [] : [[point, next]]
    })
    for (const cut of cuts) found.push({ what: `the edge of "${name}"`, mm: between(on, cut) })
  }
  return found.sort((a, b) => a.mm - b.mm)
}

/** Whether a piece of an outline is the crease: both its ends lie on the crease's line. */
function liesOn(a: Point, b: Point, from: Point, to: Point): boolean {
  return distanceTo(a, from, to) < 0.01 && distanceTo(b, from, to) < 0.01
}

/** Least distance of a convex outline and a line's piece; 0 where they meet. */
function between(outline: readonly Point[], [p, q]: readonly [Point, Point]): number {
  if (inside(outline, ...p) || inside(outline, ...q)) return 0
  let least = Number.POSITIVE_INFINITY
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!
    least = cross(a, b, p, q)
      ? 0
      : Math.min(least, distanceTo(a, p, q), distanceTo(p, a, b), distanceTo(q, a, b))
  })
  return least
}

function cross(a: Point, b: Point, p: Point, q: Point): boolean {
  const side = (u: Point, v: Point, w: Point) =>
    Math.sign((v[0] - u[0]) * (w[1] - u[1]) - (v[1] - u[1]) * (w[0] - u[0]))
  return side(a, b, p) * side(a, b, q) < 0 && side(p, q, a) * side(p, q, b) < 0
}
