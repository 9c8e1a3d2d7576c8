import type { Blank, Hinge } from '../carton/blank.ts'
import type { Outline, Point } from '../carton/die.ts'
import { degreesAt, fold, type OwnDegrees, type Placing, placed, turnedFrom } from '../carton/fold.ts'
import type { Leaf, Solid } from './solid.ts'
import type { Vec3 } from './vector.ts'

/**
 * The blank as it stands when its hinges have turned, about the middle of its box.
 * @param amount  of the fold slider, 0 flat to 1 closed
 * @param own     degrees of hinges that the slider leaves alone
 * @param corners lower left corner on the blank of the art that each panel shows, by panel; the art's size, mm
 */
export function foldedSolid(
  blank: Blank,
  amount: number,
  own: OwnDegrees,
  corners: ReadonlyMap<string, Point>,
  art: { readonly widthMm: number; readonly heightMm: number },
): Solid {
  const placings = fold(blank, amount, own)
  const [low, high] = boxOf(blank, placings)
  const middle: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]
  const size = [high[0] - low[0], high[1] - low[1], high[2] - low[2]] as const
  const shapes = shapesOf(blank, corners, art)
  const panels = blank.panels.map(({ name }): Leaf => {
    const { origin, ...shape } = shapes.get(name)!
    return { name, ...shape, ...standingOf(placings.get(name)!, origin, middle) }
  })
  return {
    leaves: [...panels, ...bends(blank, amount, own, placings, shapes, middle)],
    // Turned about one axis it stays in view.
    widthMm: Math.hypot(size[0], size[2]),
    heightMm: Math.hypot(size[1], size[2]),
    nearMm: (Math.max(size[0], size[1]) / 2) * Math.sin(handTilt),
  }
}

/** Tilt at which the whole is still in view, rad: as far as a carton stands tilted when it comes to the table. */
const handTilt = (20 * Math.PI) / 180

/** What of a leaf stays as it folds, in its own frame. */
interface Shape extends Pick<Leaf, 'outline' | 'windows' | 'cut' | 'caliperMm'> {
  /** Of its frame, on the blank. */
  readonly origin: Point
}

/** Shapes of the panels, by name: the same ones as long as blank, art and its places are the same. */
function shapesOf(
  blank: Blank,
  corners: ReadonlyMap<string, Point>,
  art: { readonly widthMm: number; readonly heightMm: number },
): ReadonlyMap<string, Shape> {
  const known = kept.get(blank)
  if (known !== undefined && known.corners === corners && known.art === art) return known.shapes
  const shapes = new Map(
    blank.panels.map(({ name, outline, windows = [] }): [string, Shape] => {
      const [x, y] = corners.get(name) ?? farAway
      const origin: Point = [x + art.widthMm / 2, y + art.heightMm / 2]
      return [
        name,
        {
          outline: framed(outline, origin),
          ...(windows.length > 0 ? { windows: windows.map(ring => framed(ring, origin)) } : {}),
          cut: cutSides(outline, blank.hinges),
          caliperMm: blank.caliperMm,
          origin,
        },
      ]
    }),
  )
  kept.set(blank, { corners, art, shapes })
  return shapes
}

const kept = new WeakMap<
  Blank,
  {
    readonly corners: ReadonlyMap<string, Point>
    readonly art: object
    readonly shapes: ReadonlyMap<string, Shape>
  }
>()

/** Where art would have to lie so that no panel shows any of it; a blank is never that large. */
const farAway: Point = [1e5, 1e5]

const framed = (outline: Outline, [ox, oy]: Point): Outline =>
  outline.map(([x, y]) => [x - ox, y - oy] as const)

/** @param origin of the leaf's frame, on the blank */
function standingOf({ turn, shift }: Placing, [ox, oy]: Point, middle: Vec3): Pick<Leaf, 'turn' | 'shift'> {
  const row = (i: number): Vec3 => [turn[3 * i]!, turn[3 * i + 1]!, turn[3 * i + 2]!]
  const at = placed({ turn, shift }, ox, oy, 0)
  return {
    turn: [row(0), row(1), row(2)],
    shift: [at[0] - middle[0], at[1] - middle[1], at[2] - middle[2]],
  }
}

/** Which sides of a panel are cut: those that lie on no crease. */
function cutSides(outline: Outline, hinges: readonly Hinge[]): boolean[] {
  return outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length]!
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
    return !hinges.some(({ from, to }) => [a, middle, b].every(point => liesOn(point, from, to)))
  })
}

/** Nearer than this to a crease is on it, mm. */
const near = 0.02

function liesOn([x, y]: Point, from: Point, to: Point): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const length = Math.hypot(dx, dy)
  const along = ((x - from[0]) * dx + (y - from[1]) * dy) / length
  const aside = ((x - from[0]) * dy - (y - from[1]) * dx) / length
  return Math.abs(aside) < near && along > -near && along < length + near
}

/** How far a bend goes on past the faces it joins, mm: no pixel between the two looks through to the inside. */
const overMm = 0.03

/** The outside of each crease that has turned: a strip that shuts the gap between its panels, with the art that lies there. */
function bends(
  blank: Blank,
  amount: number,
  own: OwnDegrees,
  placings: ReadonlyMap<string, Placing>,
  shapes: ReadonlyMap<string, Shape>,
  middle: Vec3,
): Leaf[] {
  return blank.hinges.flatMap(hinge => {
    const degrees = own[hinge.name] ?? degreesAt(hinge, amount)
    if (degrees <= 0) return []
    const depth = hinge.axisMm ?? blank.caliperMm / 2
    const half = (degrees * Math.PI) / 360
    const reach = depth * Math.sin(half) + overMm
    const [a, b] = [hinge.from, hinge.to]
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    const [ux, uy] = [(reach * (b[0] - a[0])) / length, (reach * (b[1] - a[1])) / length]
    const outline: Outline = [
      [a[0] + uy, a[1] - ux],
      [b[0] + uy, b[1] - ux],
      [b[0] - uy, b[1] + ux],
      [a[0] - uy, a[1] + ux],
    ]
    // Halfway round the crease, as deep as the chord between the two faces.
    const placing = turnedFrom(blank, hinge.name, placings.get(hinge.parent)!, degrees / 2)
    const shift = placed(placing, 0, 0, -depth * (1 - Math.cos(half)))
    const { origin } = shapes.get(hinge.parent)!
    const standing = standingOf({ ...placing, shift }, origin, middle)
    return [{ name: hinge.name, outline: framed(outline, origin), caliperMm: 0, ...standing }]
  })
}

/** Box around all leaves, board and all. */
function boxOf({ panels, caliperMm }: Blank, placings: ReadonlyMap<string, Placing>): readonly [Vec3, Vec3] {
  const low = [Infinity, Infinity, Infinity] as [number, number, number]
  const high = [-Infinity, -Infinity, -Infinity] as [number, number, number]
  const reach = (at: Vec3): void => {
    for (let i = 0; i < 3; i++) {
      low[i] = Math.min(low[i]!, at[i]!)
      high[i] = Math.max(high[i]!, at[i]!)
    }
  }
  for (const { name, outline } of panels)
    for (const [x, y] of outline) for (const z of [0, -caliperMm]) reach(placed(placings.get(name)!, x, y, z))
  return [low, high]
}
