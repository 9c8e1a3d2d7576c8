import type { Outline, Point } from '../die.ts'
import type { Arrangement } from './arrange.ts'
import { type EdgeKind, folds } from './edges.ts'
import { type Faces, fromOf, outside, placeOf, twin } from './faces.ts'

/** A piece of board between cuts and creases, before it has a name. */
export interface RawPanel {
  /** Counter-clockwise, mm. */
  readonly outline: Outline
  /** Windows, clockwise. */
  readonly holes: readonly Outline[]
  /** mm², windows taken out. */
  readonly areaMm2: number
  readonly center: Point
}

export interface Board {
  readonly panels: readonly RawPanel[]
  /** For each side of an edge the panel there; -1 where it is no panel of the blank. */
  readonly panelOf: Int32Array
  /** How many other pieces with creases of their own the drawing holds. */
  readonly others: number
}

/**
 * The blank: of all pieces that hang together by creases the one with the most panels, by area where that is equal.
 * Perforations part no panels.
 */
export function boardOf(plane: Arrangement, faces: Faces, kinds: readonly EdgeKind[]): Board {
  const group = new Sets(faces.count)
  const piece = new Sets(faces.count)
  for (const e of plane.edges.keys()) {
    const [left, right] = [faces.of[2 * e]!, faces.of[2 * e + 1]!]
    if (left === right || left === outside || right === outside) continue
    if (kinds[e] === 'perforation') group.join(left, right)
    if (kinds[e] !== 'cut') piece.join(left, right)
  }
  const members = new Map<number, { groups: Set<number>; area: number }>()
  for (let face = 1; face < faces.count; face++) {
    const key = piece.of(face)
    const known = members.get(key) ?? { groups: new Set(), area: 0 }
    known.groups.add(group.of(face))
    known.area += faces.area[face]!
    members.set(key, known)
  }
  const ranked = [...members].sort(([, a], [, b]) => b.groups.size - a.groups.size || b.area - a.area)
  const main = ranked[0]?.[0] ?? -1
  const number = new Map<number, number>()
  const rough = faces.of.map(face => {
    if (face === outside || piece.of(face) !== main) return -1
    const key = group.of(face)
    const known = number.get(key) ?? number.size
    number.set(key, known)
    return known
  })
  const panels = outlines(plane, faces, rough, number.size)
  return {
    panels,
    panelOf: rough,
    others: ranked.slice(1).filter(([, { groups }]) => groups.size > 1).length,
  }
}

function outlines(plane: Arrangement, faces: Faces, panelOf: Int32Array, count: number): readonly RawPanel[] {
  const cycles: Point[][][] = Array.from({ length: count }, () => [])
  const done = new Uint8Array(panelOf.length)
  const bounds = (side: number) => panelOf[side] !== panelOf[twin(side)]
  for (let first = 0; first < panelOf.length; first++) {
    const panel = panelOf[first]!
    if (panel < 0 || done[first] === 1 || !bounds(first)) continue
    const cycle: Point[] = []
    for (let side = first; done[side] === 0; ) {
      done[side] = 1
      cycle.push(placeOf(plane, fromOf(plane, side)))
      side = faces.next[side]!
      while (!bounds(side)) side = faces.next[twin(side)]!
    }
    cycles[panel]!.push(cycle)
  }
  return cycles.map(list => {
    const sized = list.map(points => ({ points: straightened(points), ...momentsOf(points) }))
    const outer = sized.reduce((a, b) => (b.area > a.area ? b : a))
    const holes = sized.filter(one => one.area < -1e-6)
    const areaMm2 = outer.area + holes.reduce((sum, hole) => sum + hole.area, 0)
    return {
      outline: outer.points,
      holes: holes.map(hole => hole.points),
      areaMm2,
      center: outer.center,
    }
  })
}

/** Corners that change nothing by more than this are left out, mm. */
const straight = 0.003

/** A closed line without corners that lie on the way between their neighbours. */
function straightened(points: readonly Point[]): Outline {
  const kept: Point[] = []
  const count = points.length
  for (const [i, at] of points.entries()) {
    const before = kept.at(-1) ?? points[(i + count - 1) % count]!
    const after = points[(i + 1) % count]!
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]]
    const length = Math.hypot(dx, dy)
    const aside = length === 0 ? 1 : Math.abs((at[0] - before[0]) * dy - (at[1] - before[1]) * dx) / length
    const along = (at[0] - before[0]) * dx + (at[1] - before[1]) * dy
    if (aside > straight || along < 0 || along > length * length) kept.push(at)
  }
  return kept.length < 3 ? points : kept
}

function momentsOf(points: readonly Point[]): { readonly area: number; readonly center: Point } {
  const [ox, oy] = points[0]!
  let [twice, sx, sy] = [0, 0, 0]
  for (const [i, [px, py]] of points.entries()) {
    const [qx, qy] = points[(i + 1) % points.length]!
    const [ax, ay, bx, by] = [px - ox, py - oy, qx - ox, qy - oy]
    const cross = ax * by - bx * ay
    twice += cross
    sx += (ax + bx) * cross
    sy += (ay + by) * cross
  }
  const scale = twice === 0 ? 0 : 1 / (3 * twice)
  return { area: twice / 2, center: [ox + sx * scale, oy + sy * scale] }
}

/** Whether a side of an edge belongs to a fold of the blank: board of two panels on its two sides. */
export const isFold = (e: number, kinds: readonly EdgeKind[], { panelOf }: Board): boolean =>
  folds(kinds[e]!) &&
  panelOf[2 * e]! >= 0 &&
  panelOf[2 * e + 1]! >= 0 &&
  panelOf[2 * e] !== panelOf[2 * e + 1]

/** Numbers that are joined into sets. */
class Sets {
  private readonly parent: Int32Array

  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, i) => i)
  }

  of(i: number): number {
    let at = i
    while (this.parent[at] !== at) {
      this.parent[at] = this.parent[this.parent[at]!]!
      at = this.parent[at]!
    }
    return at
  }

  join(a: number, b: number): void {
    this.parent[this.of(a)] = this.of(b)
  }
}
