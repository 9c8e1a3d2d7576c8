import { ShapeUtils, Vector2 } from 'three'
import type { Blank } from '../../../core/carton/blank.ts'
import type { Outline, Point } from '../../../core/carton/die.ts'
import { fold, placed } from '../../../core/carton/fold.ts'

type Three = readonly [number, number, number]

/** Touching is no passing: leaves count as one in the other where they share more than this, mm. */
const touch = 1e-6

/** Board that a crease itself takes, in calipers: there two leaves are one. */
const bead = 1.5

/** Thick leaves of a blank, ready to be folded and tried against each other. */
export class Leaves {
  private readonly names: readonly string[]
  private readonly whole: readonly (readonly Outline[])[]
  /** Pieces of the first and the second leaf of each pair: of hinged ones without the crease between them. */
  private readonly pairs: readonly {
    readonly a: number
    readonly b: number
    readonly pieces: readonly [readonly Outline[], readonly Outline[]]
  }[]

  constructor(private readonly blank: Blank) {
    this.names = blank.panels.map(panel => panel.name)
    this.whole = blank.panels.map(panel => convexPieces(panel.outline))
    this.pairs = this.names.flatMap((_, a) =>
      this.names.slice(a + 1).map((_, i) => {
        const b = a + 1 + i
        return { a, b, pieces: [this.apart(a, b), this.apart(b, a)] as const }
      }),
    )
  }

  /** Pairs of leaves that are in each other at an amount of the slider. */
  passing(amount: number): readonly string[] {
    const placings = fold(this.blank, amount)
    const s = this.blank.caliperMm
    const solids = this.names.map((name, i) => {
      const placing = placings.get(name)!
      const turn = placing.turn
      return {
        placing,
        normal: [turn[2]!, turn[5]!, turn[8]!] as Three,
        whole: this.blank.panels[i]!.outline.flatMap(([x, y]) => [
          placed(placing, x, y, 0),
          placed(placing, x, y, -s),
        ]),
      }
    })
    return this.pairs.flatMap(({ a, b, pieces }) => {
      const [first, second] = [solids[a]!, solids[b]!]
      if (apartAlong(first.normal, first.whole, second.whole)) return []
      if (apartAlong(second.normal, first.whole, second.whole)) return []
      if ([axisX, axisY, axisZ].some(axis => apartAlong(axis, first.whole, second.whole))) return []
      const prisms = [
        pieces[0].map(piece => prism(piece, first.placing, s)),
        pieces[1].map(piece => prism(piece, second.placing, s)),
      ] as const
      const meets = prisms[0].some(p => prisms[1].some(q => overlap(p, q)))
      return meets ? [`${this.names[a]} in ${this.names[b]}`] : []
    })
  }

  private apart(of: number, other: number): readonly Outline[] {
    const hinge = this.blank.hinges.find(
      ({ parent, child }) =>
        (parent === this.names[of] && child === this.names[other]) ||
        (child === this.names[of] && parent === this.names[other]),
    )
    if (hinge === undefined) return this.whole[of]!
    const [dx, dy] = [hinge.to[0] - hinge.from[0], hinge.to[1] - hinge.from[1]]
    const length = Math.hypot(dx, dy)
    const left = ([x, y]: Point) => (dx * (y - hinge.from[1]) - dy * (x - hinge.from[0])) / length
    const outline = this.blank.panels[of]!.outline
    const sign =
      outline.reduce((far, at) => (Math.abs(left(at)) > Math.abs(far) ? left(at) : far), 0) > 0 ? 1 : -1
    return this.whole[of]!.map(piece =>
      halfPlane(piece, at => sign * left(at) - bead * this.blank.caliperMm),
    ).filter(piece => piece.length >= 3)
  }
}

interface Prism {
  readonly corners: readonly Three[]
  readonly faces: readonly Three[]
  readonly edges: readonly Three[]
}

const axisX: Three = [1, 0, 0]
const axisY: Three = [0, 1, 0]
const axisZ: Three = [0, 0, 1]

function prism(piece: Outline, placing: Parameters<typeof placed>[0], caliper: number): Prism {
  const still = { turn: placing.turn, shift: [0, 0, 0] as const }
  const turned = (x: number, y: number, z: number) => placed(still, x, y, z)
  const sides = piece.map(([x, y], i): Three => {
    const [nextX, nextY] = piece[(i + 1) % piece.length]!
    return turned(nextX - x, nextY - y, 0)
  })
  const up = turned(0, 0, 1)
  return {
    corners: piece.flatMap(([x, y]) => [placed(placing, x, y, 0), placed(placing, x, y, -caliper)]),
    faces: [up, ...sides.map(side => cross(side, up))],
    edges: [up, ...sides],
  }
}

/** Separating axes of two convex solids: normals of faces, and products of edges. */
function overlap(a: Prism, b: Prism): boolean {
  for (const axis of [...a.faces, ...b.faces]) if (apartAlong(axis, a.corners, b.corners)) return false
  for (const first of a.edges)
    for (const second of b.edges) if (apartAlong(cross(first, second), a.corners, b.corners)) return false
  return true
}

function apartAlong(axis: Three, a: readonly Three[], b: readonly Three[]): boolean {
  const length = Math.hypot(...axis)
  if (length < 1e-9) return false
  let [lowA, highA, lowB, highB] = [Infinity, -Infinity, Infinity, -Infinity]
  for (const [x, y, z] of a) {
    const t = x * axis[0] + y * axis[1] + z * axis[2]
    if (t < lowA) lowA = t
    if (t > highA) highA = t
  }
  for (const [x, y, z] of b) {
    const t = x * axis[0] + y * axis[1] + z * axis[2]
    if (t < lowB) lowB = t
    if (t > highB) highB = t
  }
  return Math.min(highA - lowB, highB - lowA) < touch * length
}

const cross = ([a, b, c]: Three, [x, y, z]: Three): Three => [b * z - c * y, c * x - a * z, a * y - b * x]

/** What of a convex piece lies where `inside` is above 0. */
function halfPlane(piece: Outline, inside: (at: Point) => number): Outline {
  return piece.flatMap((at, i): Outline => {
    const next = piece[(i + 1) % piece.length]!
    const [t, u] = [inside(at), inside(next)]
    const crossing: Outline =
      t > 0 !== u > 0
        ? [[at[0] + ((next[0] - at[0]) * t) / (t - u), at[1] + ((next[1] - at[1]) * t) / (t - u)]]
        : []
    return t > 0 ? [at, ...crossing] : crossing
  })
}

/** Triangles of the outline, joined again wherever the joint piece is convex. */
function convexPieces(outline: Outline): readonly Outline[] {
  const corners = outline.filter(
    ([x, y], i) =>
      Math.hypot(x - outline[(i + 1) % outline.length]![0], y - outline[(i + 1) % outline.length]![1]) > 1e-9,
  )
  if (isConvex(corners)) return [corners]
  const triangles = ShapeUtils.triangulateShape(
    corners.map(([x, y]) => new Vector2(x, y)),
    [],
  )
  const pieces = triangles.map(triangle => [...triangle])
  for (let i = 0; i < pieces.length; i++)
    for (let k = i + 1; k < pieces.length; k++) {
      const joined = join(pieces[i]!, pieces[k]!)
      if (joined === null || !isConvex(joined.map(at => corners[at]!))) continue
      pieces[i] = joined
      pieces.splice(k, 1)
      k = i
    }
  return pieces.map(piece => piece.map(at => corners[at]!))
}

/** Two counter-clockwise rings of corners as one over their common edge; null where they have none. */
function join(a: readonly number[], b: readonly number[]): number[] | null {
  for (let i = 0; i < a.length; i++) {
    const [from, to] = [a[i]!, a[(i + 1) % a.length]!]
    const k = b.indexOf(to)
    if (k < 0 || b[(k + 1) % b.length] !== from) continue
    const restA = [...a.slice(i + 1), ...a.slice(0, i + 1)]
    const restB = [...b.slice(k + 1), ...b.slice(0, k + 1)]
    return [...restA, ...restB.slice(1, -1)]
  }
  return null
}

function isConvex(outline: Outline): boolean {
  return outline.every(([x, y], i) => {
    const b = outline[(i + 1) % outline.length]!
    const c = outline[(i + 2) % outline.length]!
    return (b[0] - x) * (c[1] - b[1]) - (b[1] - y) * (c[0] - b[0]) > -1e-9
  })
}
