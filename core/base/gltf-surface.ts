import { type GltfGuard, gltfLimits } from './gltf-guard.ts'

/** Triangles of a model as it stands: right-handed, y up, its front towards +z, in the model's own unit. */
export interface Model {
  /** Three numbers a corner, three corners a triangle. */
  readonly positions: Float32Array
  /** As many, of length 1; away from the surface on the side that the model calls outside. */
  readonly normals: Float32Array
  /** How light each triangle's colour is, 0..1, linear. */
  readonly tones: Float32Array
}

/** Four by four, column by column. */
export type Matrix = readonly number[]
export const identity: Matrix = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]

/** Corners as a model's file lists them, before they are put in their place. */
export interface Surface {
  /** Three numbers a vertex. */
  readonly positions: Float32Array
  /** As many, or null: each triangle has its own. */
  readonly normals: Float32Array | null
  readonly indices: ArrayLike<number> | null
  /** 4 triangles, 5 a strip, 6 a fan; others have no surface. glTF 2.0, 3.7.2.1. */
  readonly mode: number
  readonly tone: number
}

export interface Placed {
  readonly surface: Surface
  readonly matrix: Matrix
}

/** All triangles of a scene; throws BadInput when there are none, too many, or one lies nowhere. */
export function trianglesOf(placed: readonly Placed[], guard: GltfGuard): Model {
  const corners = placed.reduce((sum, { surface }) => sum + cornerCount(surface), 0)
  if (corners === 0)
    guard.refuse('the scene', 'has no surface made of triangles', 'Export a mesh with the model')
  if (corners > 3 * gltfLimits.triangles)
    guard.refuse('the scene', `has more than ${gltfLimits.triangles} triangles`, 'Use a coarser model')
  const model: Model = {
    positions: new Float32Array(3 * corners),
    normals: new Float32Array(3 * corners),
    tones: new Float32Array(corners / 3),
  }
  let first = 0
  for (const one of placed) {
    lay(one, model, first, guard)
    first += cornerCount(one.surface)
  }
  return model
}

/** Corners of a surface's triangles; 0 for points and lines. */
export function cornerCount({ positions, indices, mode }: Surface): number {
  const count = indices?.length ?? positions.length / 3
  switch (mode) {
    case 4:
      return count - (count % 3)
    case 5:
    case 6:
      return Math.max(0, count - 2) * 3
    default:
      return 0
  }
}

/** Writes a surface's corners from corner `first` on. */
function lay({ surface, matrix: m }: Placed, model: Model, first: number, guard: GltfGuard): void {
  const { positions, normals, tones } = model
  const { positions: from, normals: smooth, indices, mode, tone } = surface
  const corners = cornerCount(surface)
  // A mirroring matrix turns triangles inside out.
  const facing = Math.sign(determinant(m)) || 1
  for (let i = 0; i < corners; i++) {
    const index = cornerOf(mode, i)
    const at = indices ? indices[index]! : index
    if (3 * at >= from.length) guard.wrong('a mesh', `corner ${at} of ${from.length / 3} is asked for`)
    const [x, y, z] = [from[3 * at]!, from[3 * at + 1]!, from[3 * at + 2]!]
    const to = 3 * (first + i)
    for (let r = 0; r < 3; r++) {
      const value = m[r]! * x + m[4 + r]! * y + m[8 + r]! * z + m[12 + r]!
      if (!(Math.abs(value) <= farthest))
        guard.refuse('a mesh', `corner ${at} lies nowhere (${value})`, 'Repair the mesh and export it again')
      positions[to + r] = value
    }
    if (smooth !== null)
      turn(m, facing, [smooth[3 * at]!, smooth[3 * at + 1]!, smooth[3 * at + 2]!], normals, to)
  }
  for (let t = first; t < first + corners; t += 3) {
    tones[t / 3] = tone
    flatten(positions, normals, 3 * t, facing)
  }
}

/** Squares of lengths must stay inside a 32-bit float. */
const farthest = 1e15

/** Column-major product. */
export function times(a: Matrix, b: Matrix): Matrix {
  const out = [...identity]
  for (let c = 0; c < 4; c++)
    for (let r = 0; r < 4; r++) {
      let sum = 0
      for (let k = 0; k < 4; k++) sum += a[4 * k + r]! * b[4 * c + k]!
      out[4 * c + r] = sum
    }
  return out
}

/** The vertex of corner `i`: lists, strips (every second one turned) and fans. */
function cornerOf(mode: number, i: number): number {
  if (mode === 4) return i
  const [triangle, corner] = [Math.floor(i / 3), i % 3]
  if (mode === 6) return corner === 0 ? 0 : triangle + corner
  return triangle + (triangle % 2 === 1 && corner > 0 ? 3 - corner : corner)
}

/** A normal through the matrix of cofactors, as long as 1 or, where that fails, 0. */
function turn(
  m: Matrix,
  facing: number,
  [x, y, z]: readonly [number, number, number],
  out: Float32Array,
  to: number,
): void {
  const cofactor = (a: number, b: number, c: number, d: number) => m[a]! * m[b]! - m[c]! * m[d]!
  const nx = cofactor(5, 10, 6, 9) * x + cofactor(9, 2, 10, 1) * y + cofactor(1, 6, 2, 5) * z
  const ny = cofactor(6, 8, 4, 10) * x + cofactor(10, 0, 8, 2) * y + cofactor(2, 4, 0, 6) * z
  const nz = cofactor(4, 9, 5, 8) * x + cofactor(8, 1, 9, 0) * y + cofactor(0, 5, 1, 4) * z
  const length = Math.hypot(nx, ny, nz)
  const scale = length > 0 && Number.isFinite(length) ? facing / length : 0
  out[to] = nx * scale
  out[to + 1] = ny * scale
  out[to + 2] = nz * scale
}

function determinant(m: Matrix): number {
  const [a, b, c, , d, e, f, , g, h, i] = m as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  return a * (e * i - h * f) - d * (b * i - h * c) + g * (b * f - e * c)
}

/** Where a corner has no normal, the triangle's own. A triangle without area keeps none. */
function flatten(positions: Float32Array, normals: Float32Array, at: number, facing: number): void {
  const edge = (corner: number, axis: number) => positions[at + 3 * corner + axis]! - positions[at + axis]!
  const [ax, ay, az] = [edge(1, 0), edge(1, 1), edge(1, 2)]
  const [bx, by, bz] = [edge(2, 0), edge(2, 1), edge(2, 2)]
  const normal = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx] as const
  const length = Math.hypot(...normal)
  if (!(length > 0)) return
  for (let corner = 0; corner < 3; corner++) {
    const to = at + 3 * corner
    if (normals[to] !== 0 || normals[to + 1] !== 0 || normals[to + 2] !== 0) continue
    for (let axis = 0; axis < 3; axis++) normals[to + axis] = (facing * normal[axis]!) / length
  }
}
