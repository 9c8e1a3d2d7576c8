import type { Rotation, Vec3 } from './vector.ts'

/** A place on a leaf, mm from the middle of the art that lies on it: x right, y up, seen from the print side. */
export type LeafPoint = readonly [x: number, y: number]

/** One flat leaf of board in space. Its print side is its plane z = 0, its board lies under it. */
export interface Leaf {
  readonly name: string
  /** Counter-clockwise seen from the print side. */
  readonly outline: readonly LeafPoint[]
  /** Openings inside the outline, clockwise; none where left out. All of their edge is cut. */
  readonly windows?: readonly (readonly LeafPoint[])[]
  /** Whether the side of the outline from each corner to the next is cut, so that its edge shows; all are when left out. */
  readonly cut?: readonly boolean[]
  /** Thickness of its board, mm; 0 = the printed face alone. */
  readonly caliperMm: number
  /** Object ← leaf: rotation, then shift, mm. The object's origin is the point that it turns about. */
  readonly turn: Rotation
  readonly shift: Vec3
}

/** What stands on the table instead of the flat panel: leaves of one board. */
export interface Solid {
  readonly leaves: readonly Leaf[]
  /** Size that the untilted object is framed by, mm. */
  readonly widthMm: number
  readonly heightMm: number
  /** How much nearer to the eye a part of it comes when a hand tilts it, mm; the frame keeps room for that. 0 where left out. */
  readonly nearMm?: number
}

/** The flat panel as a solid of one leaf without thickness. */
export function flatSolid(panel: { readonly widthMm: number; readonly heightMm: number }): Solid {
  const { widthMm, heightMm } = panel
  const [x, y] = [widthMm / 2, heightMm / 2]
  const outline = [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ] as const
  const leaf: Leaf = {
    name: 'panel',
    outline,
    caliperMm: 0,
    turn: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    shift: [0, 0, 0],
  }
  return { leaves: [leaf], widthMm, heightMm }
}

/** Of the faces of a leaf: printed, back, or one of the cut edges. */
export type Face = 'print' | 'board'

export interface Hit {
  /** Along the ray, in its own lengths. */
  t: number
  face: Face
  /** Outward, leaf frame. */
  nx: number
  ny: number
  nz: number
}

export const noHit = (): Hit => ({ t: Number.POSITIVE_INFINITY, face: 'board', nx: 0, ny: 0, nz: 0 })

/**
 * Where a ray from the eye first meets the leaf, both in the leaf's frame; sets `hit` and returns true where that is
 * nearer than what `hit` already holds.
 */
export function meet(leaf: Leaf, eye: Vec3, dx: number, dy: number, dz: number, hit: Hit): boolean {
  const { outline, windows, cut, caliperMm } = leaf
  const [ex, ey, ez] = eye
  const before = hit.t
  if (ez > 0 && dz < 0) {
    const t = -ez / dz
    if (t < hit.t && onLeaf(leaf, ex + t * dx, ey + t * dy)) setHit(hit, t, 'print', 0, 0, 1)
  } else if (caliperMm > 0 && ez < -caliperMm && dz > 0) {
    const t = (-caliperMm - ez) / dz
    if (t < hit.t && onLeaf(leaf, ex + t * dx, ey + t * dy)) setHit(hit, t, 'board', 0, 0, -1)
  }
  if (caliperMm > 0) {
    meetEdge(outline, cut, caliperMm, eye, dx, dy, dz, hit)
    if (windows !== undefined)
      for (const ring of windows) meetEdge(ring, undefined, caliperMm, eye, dx, dy, dz, hit)
  }
  return hit.t < before
}

/** The same for the cut edge along a ring that has its board on the left. */
function meetEdge(
  ring: readonly LeafPoint[],
  cut: Leaf['cut'],
  caliperMm: number,
  [ex, ey, ez]: Vec3,
  dx: number,
  dy: number,
  dz: number,
  hit: Hit,
): void {
  for (let i = 0; i < ring.length; i++) {
    if (cut?.[i] === false) continue
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[i + 1 === ring.length ? 0 : i + 1]!
    const length = Math.hypot(bx - ax, by - ay)
    if (length === 0) continue
    const nx = (by - ay) / length
    const ny = (ax - bx) / length
    const toward = dx * nx + dy * ny
    const above = (ex - ax) * nx + (ey - ay) * ny
    if (toward >= 0 || above <= 0) continue
    const t = -above / toward
    if (t >= hit.t) continue
    const z = ez + t * dz
    const along = (ex + t * dx - ax) * -ny + (ey + t * dy - ay) * nx
    if (z <= 0 && z >= -caliperMm && along >= 0 && along <= length) setHit(hit, t, 'board', nx, ny, 0)
  }
}

function setHit(hit: Hit, t: number, face: Face, nx: number, ny: number, nz: number): void {
  hit.t = t
  hit.face = face
  hit.nx = nx
  hit.ny = ny
  hit.nz = nz
}

/** Whether a place lies on the board of a leaf: inside its outline and in none of its windows. */
export function onLeaf(
  { outline, windows }: Pick<Leaf, 'outline' | 'windows'>,
  x: number,
  y: number,
): boolean {
  if (!inside(outline, x, y)) return false
  if (windows !== undefined) for (const ring of windows) if (inside(ring, x, y)) return false
  return true
}

/** Whether a place lies inside an outline; of two leaves that share an edge one has it. */
export function inside(outline: readonly LeafPoint[], x: number, y: number): boolean {
  let odd = false
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[i]!
    const [bx, by] = outline[j]!
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd
  }
  return odd
}

/** A place of the leaf, z ≤ 0 under its print side, in the object's frame. */
export function inObject({ turn, shift }: Leaf, x: number, y: number, z: number): Vec3 {
  const row = (i: 0 | 1 | 2) => turn[i][0] * x + turn[i][1] * y + turn[i][2] * z + shift[i]
  return [row(0), row(1), row(2)]
}
