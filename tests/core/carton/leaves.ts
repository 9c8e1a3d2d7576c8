import { ShapeUtils, Vector2 } from 'three'
import type { Blank } from '../../../core/carton/blank.ts'
import type { Outline, Point } from '../../../core/carton/die.ts'
import { fold, type Placing } from '../../../core/carton/fold.ts'

type Three = readonly [number, number, number]

/** Touching is no passing: leaves count as one in the other where they share more than this, mm. */
const touch = 1e-6

/** Board that a crease itself takes, in calipers: there two leaves are one. */
const bead = 1.5

/** Convex pieces of a leaf, folded once for each amount however many leaves they are tried against. */
type Pieces = readonly Outline[]

/** Thick leaves of a blank, ready to be folded and tried against each other. */
export class Leaves {
  private readonly names: readonly string[]
  private readonly whole: readonly Pieces[]
  /** Pieces of the first and the second leaf of each pair: of hinged ones without the crease between them. */
  private readonly pairs: readonly {
    readonly a: number
    readonly b: number
    readonly pieces: readonly [Pieces, Pieces]
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
      return { placing, whole: prism(this.blank.panels[i]!.outline, placing, s) }
    })
    const folded = new Map<Pieces, readonly Prism[]>()
    const prisms = (leaf: number, pieces: Pieces): readonly Prism[] => {
      const known = folded.get(pieces)
      if (known !== undefined) return known
      const made = pieces.map(piece => prism(piece, solids[leaf]!.placing, s))
      folded.set(pieces, made)
      return made
    }
    return this.pairs.flatMap(({ a, b, pieces }) => {
      const [first, second] = [solids[a]!.whole, solids[b]!.whole]
      if (boxesApart(first, second)) return []
      // Faces of a leaf part whole leaves, whatever their outlines.
      if (apartAlong(first.up, first, second) || apartAlong(second.up, first, second)) return []
      const others = prisms(b, pieces[1])
      const meets = prisms(a, pieces[0]).some(p => others.some(q => overlap(p, q)))
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
  readonly piece: Outline
  readonly turn: readonly number[]
  /** x, y, z of each corner in turn. */
  readonly corners: Float64Array
  /** Box around them: lowest and highest x, y, z. */
  readonly low: Three
  readonly high: Three
  readonly up: Three
}

function prism(piece: Outline, { turn, shift }: Placing, caliper: number): Prism {
  const corners = new Float64Array(6 * piece.length)
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  for (let k = 0; k < 3; k++) {
    const [x, y, z] = [turn[3 * k]!, turn[3 * k + 1]!, turn[3 * k + 2]!]
    for (let i = 0; i < piece.length; i++) {
      const print = x * piece[i]![0] + y * piece[i]![1] + shift[k]!
      const board = print - z * caliper
      corners[6 * i + k] = print
      corners[6 * i + 3 + k] = board
      low[k] = Math.min(low[k]!, print, board)
      high[k] = Math.max(high[k]!, print, board)
    }
  }
  return { piece, turn, corners, low, high, up: [turn[2]!, turn[5]!, turn[8]!] }
}

/** Along each edge of the outline. */
const sidesOf = ({ piece, turn }: Prism): readonly Three[] =>
  piece.map(([x, y], i): Three => {
    const [nextX, nextY] = piece[(i + 1) % piece.length]!
    const along = (k: number) => turn[k]! * (nextX - x) + turn[k + 1]! * (nextY - y)
    return [along(0), along(3), along(6)]
  })

/** Separating axes of two convex solids: normals of faces, and products of edges. */
function overlap(a: Prism, b: Prism): boolean {
  if (boxesApart(a, b) || apartAlong(a.up, a, b) || apartAlong(b.up, a, b)) return false
  const [aSides, bSides] = [sidesOf(a), sidesOf(b)]
  for (const side of aSides) if (apartAlong(cross(side, a.up), a, b)) return false
  for (const side of bSides) if (apartAlong(cross(side, b.up), a, b)) return false
  // Of parallel leaves the products are the same directions once more.
  if (Math.hypot(...cross(a.up, b.up)) < 1e-9) return true
  const edges = [b.up, ...bSides]
  for (const first of [a.up, ...aSides])
    for (const second of edges) if (apartAlong(cross(first, second), a, b)) return false
  return true
}

function boxesApart(a: Prism, b: Prism): boolean {
  for (let k = 0; k < 3; k++)
    if (Math.min(a.high[k]! - b.low[k]!, b.high[k]! - a.low[k]!) < touch) return true
  return false
}

function apartAlong(axis: Three, { corners: a }: Prism, { corners: b }: Prism): boolean {
  const [x, y, z] = axis
  const length = Math.hypot(x, y, z)
  if (length < 1e-9) return false
  let [lowA, highA, lowB, highB] = [Infinity, -Infinity, Infinity, -Infinity]
  for (let i = 0; i < a.length; i += 3) {
    const t = a[i]! * x + a[i + 1]! * y + a[i + 2]! * z
    if (t < lowA) lowA = t
    if (t > highA) highA = t
  }
  for (let i = 0; i < b.length; i += 3) {
    const t = b[i]! * x + b[i + 1]! * y + b[i + 2]! * z
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
