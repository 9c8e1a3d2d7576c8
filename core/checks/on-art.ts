import type { Hinge } from '../carton/blank.ts'
import type { Outline, Point } from '../carton/die.ts'
import { inside } from '../reference/solid.ts'
import type { CheckInput } from './input.ts'

/** A straight rule of the die in the frame of the art, mm from its lower left corner, y up. */
export interface ArtLine {
  readonly kind: 'cut' | 'crease'
  readonly panel: string
  readonly from: Point
  readonly to: Point
  /** Unit normal that points off the panel. */
  readonly outward: Point
}

/** A crease in the frame of the art. */
export interface ArtCrease {
  readonly hinge: Hinge
  readonly from: Point
  readonly to: Point
}

type Folded = Pick<CheckInput, 'blank' | 'corners'>

/** Sides of the panels that show art, and whether each is cut or creased. A flat panel without blank has none. */
export function artLines({ blank, corners }: Folded): readonly ArtLine[] {
  if (blank === null) return []
  return blank.panels.flatMap(({ name, outline, windows = [] }) => {
    const corner = corners.get(name)
    if (corner === undefined) return []
    return [outline, ...windows].flatMap(ring =>
      ring.map((a, i): ArtLine => {
        const b = ring[(i + 1) % ring.length]!
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
        return {
          kind: onCrease(a, b, blank.hinges) ? 'crease' : 'cut',
          panel: name,
          from: less(a, corner),
          to: less(b, corner),
          // Counter-clockwise outlines have the board on their left, windows run the other way.
          outward: [(b[1] - a[1]) / length, (a[0] - b[0]) / length],
        }
      }),
    )
  })
}

/** Creases of panels that show art; one that lies between two arts is told once for each. */
export function artCreases({ blank, corners }: Folded): readonly ArtCrease[] {
  if (blank === null) return []
  return blank.hinges.flatMap((hinge): readonly ArtCrease[] => {
    const places = [corners.get(hinge.parent), corners.get(hinge.child)].filter(one => one !== undefined)
    const [first, second] = places
    const same = second !== undefined && first![0] === second[0] && first![1] === second[1]
    return (same ? [first!] : places).map(corner => ({
      hinge,
      from: less(hinge.from, corner),
      to: less(hinge.to, corner),
    }))
  })
}

/** A zone of the blank, such as glue, in the frame of the art of each panel that it lies on. */
export function onArt(
  { blank, corners }: Folded,
  zone: Outline,
): readonly { panel: string; zone: Outline }[] {
  if (blank === null) return []
  const middle = zone.reduce<Point>(
    ([x, y], [px, py]) => [x + px / zone.length, y + py / zone.length],
    [0, 0],
  )
  return blank.panels.flatMap(({ name, outline }) => {
    const corner = corners.get(name)
    if (corner === undefined || !inside(outline, ...middle)) return []
    return [{ panel: name, zone: zone.map(point => less(point, corner)) }]
  })
}

/** Nearer than this to a crease is on it, mm. */
const near = 0.05

function onCrease(a: Point, b: Point, hinges: readonly Hinge[]): boolean {
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
  return hinges.some(({ from, to }) => [a, middle, b].every(point => distanceTo(point, from, to) < near))
}

/** Distance of a place from a straight piece, mm. */
export function distanceTo([x, y]: Point, from: Point, to: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const length2 = dx * dx + dy * dy
  const part =
    length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - from[0]) * dx + (y - from[1]) * dy) / length2))
  return Math.hypot(x - from[0] - part * dx, y - from[1] - part * dy)
}

const less = ([x, y]: Point, [ox, oy]: Point): Point => [x - ox, y - oy]
