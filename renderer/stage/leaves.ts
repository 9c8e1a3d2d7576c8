import {
  BufferGeometry,
  Float32BufferAttribute,
  GLSL3,
  Matrix4,
  Mesh,
  ShaderMaterial,
  ShapeUtils,
  Scene as ThreeScene,
  Vector2,
} from 'three'
import type { Leaf, LeafPoint, Solid } from '../../core/reference/solid.ts'
import depthVertex from './glsl/depth.vert.glsl?raw'

/** A leaf as meshes, with its own frame's matrix. */
export interface LeafMeshes {
  leaf: Leaf
  readonly print: Mesh
  readonly board: Mesh
}

/** The leaves of a solid, ready to be drawn: first all depths, then one leaf after the other. */
export class Leaves {
  readonly #world = new ThreeScene()
  readonly #depth = new ShaderMaterial({
    glslVersion: GLSL3,
    vertexShader: depthVertex,
    fragmentShader: 'void main() {}',
    colorWrite: false,
  })
  #leaves: LeafMeshes[] = []

  constructor() {
    this.#world.overrideMaterial = this.#depth
  }

  /** Everything, to be drawn for its depths alone. */
  get depths(): ThreeScene {
    return this.#world
  }

  get all(): readonly LeafMeshes[] {
    return this.#leaves
  }

  /** Leaves of the same shape only move; what bends between them changes its width. */
  setSolid({ leaves }: Solid): void {
    const known = new Map(this.#leaves.map(meshes => [keyOf(meshes.leaf), meshes]))
    this.#leaves = leaves.map(leaf => {
      const meshes = known.get(keyOf(leaf))
      if (meshes === undefined) return this.#added(leaf)
      known.delete(keyOf(leaf))
      if (!sameShape(leaf, meshes.leaf) && !reshaped(meshes, leaf)) {
        this.#remove(meshes)
        return this.#added(leaf)
      }
      meshes.leaf = leaf
      return meshes
    })
    for (const meshes of known.values()) this.#remove(meshes)
  }

  /** Puts every leaf where it stands in the eye's frame. @param object that frame ← object */
  place(object: Matrix4): void {
    const own = new Matrix4()
    for (const { leaf, print, board } of this.#leaves) {
      const { turn, shift } = leaf
      own.set(...turn[0], shift[0], ...turn[1], shift[1], ...turn[2], shift[2], 0, 0, 0, 1)
      print.matrix.multiplyMatrices(object, own)
      board.matrix.copy(print.matrix)
      print.matrixWorldNeedsUpdate = true
      board.matrixWorldNeedsUpdate = true
    }
  }

  dispose(): void {
    for (const meshes of this.#leaves) this.#remove(meshes)
    this.#leaves = []
    this.#depth.dispose()
  }

  #added(leaf: Leaf): LeafMeshes {
    const meshes = {
      leaf,
      print: still(new Mesh(printFace(leaf), this.#depth)),
      board: still(new Mesh(boardFaces(leaf), this.#depth)),
    }
    this.#world.add(meshes.print, meshes.board)
    return meshes
  }

  #remove({ print, board }: LeafMeshes): void {
    this.#world.remove(print, board)
    print.geometry.dispose()
    board.geometry.dispose()
  }
}

/** A panel and the bend at its crease go by one name; only the bend has no board. */
const keyOf = ({ name, caliperMm }: Leaf): string => `${caliperMm > 0 ? 'panel' : 'face'} ${name}`

function still(mesh: Mesh): Mesh {
  mesh.matrixAutoUpdate = false
  mesh.frustumCulled = false
  return mesh
}

function sameShape(a: Leaf, b: Leaf): boolean {
  const rings = (leaf: Leaf) => [leaf.outline, ...(leaf.windows ?? [])]
  const [own, others] = [rings(a), rings(b)]
  return (
    a.caliperMm === b.caliperMm &&
    own.length === others.length &&
    own.every((ring, i) => sameRing(ring, others[i]!)) &&
    sameFlags(a.cut, b.cut)
  )
}

type Ring = readonly LeafPoint[]

const sameRing = (a: Ring, b: Ring): boolean =>
  a === b || (a.length === b.length && a.every(([x, y], i) => x === b[i]![0] && y === b[i]![1]))

const sameFlags = (a: Leaf['cut'], b: Leaf['cut']): boolean =>
  a === b || (a !== undefined && b !== undefined && a.every((flag, i) => flag === b[i]))

/** Moves the corners of a convex face without board; false for any other leaf. */
function reshaped({ print, leaf: before }: LeafMeshes, { outline, caliperMm, windows }: Leaf): boolean {
  if (caliperMm > 0 || windows !== undefined || before.windows !== undefined) return false
  if (outline.length !== 4 || before.outline.length !== 4) return false
  const position = print.geometry.getAttribute('position')
  for (const [i, [x, y]] of outline.entries()) position.setXY(i, x, y)
  position.needsUpdate = true
  return true
}

/** Triangles of an outline without its windows; corners are counted ring after ring. */
const triangles = ({ outline, windows = [] }: Pick<Leaf, 'outline' | 'windows'>) =>
  ShapeUtils.triangulateShape(vectors(outline), windows.map(vectors))

const vectors = (ring: Ring): Vector2[] => ring.map(([x, y]) => new Vector2(x, y))

function printFace(leaf: Leaf): BufferGeometry {
  const { outline, windows = [] } = leaf
  const geometry = new BufferGeometry()
  geometry.setAttribute(
    'position',
    new Float32BufferAttribute(
      [outline, ...windows].flat().flatMap(([x, y]) => [x, y, 0]),
      3,
    ),
  )
  geometry.setIndex(triangles(leaf).flat())
  return geometry
}

/** The back, and a wall under every cut side of the outline and around the windows. */
function boardFaces(leaf: Leaf): BufferGeometry {
  const { outline, windows = [], cut, caliperMm } = leaf
  const position: number[] = []
  const normal: number[] = []
  const index: number[] = []
  if (caliperMm > 0) {
    for (const [x, y] of [outline, ...windows].flat()) {
      position.push(x, y, -caliperMm)
      normal.push(0, 0, -1)
    }
    for (const [a, b, c] of triangles(leaf)) index.push(a!, c!, b!)
    wall(outline, cut)
    for (const ring of windows) wall(ring, undefined)
  }
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new Float32BufferAttribute(position, 3))
  geometry.setAttribute('normal', new Float32BufferAttribute(normal, 3))
  geometry.setIndex(index)
  return geometry

  function wall(ring: Ring, isCut: Leaf['cut']): void {
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!
      const length = Math.hypot(bx - ax, by - ay)
      if (length === 0 || isCut?.[i] === false) return
      const first = position.length / 3
      position.push(ax, ay, 0, ax, ay, -caliperMm, bx, by, -caliperMm, bx, by, 0)
      for (let corner = 0; corner < 4; corner++) normal.push((by - ay) / length, (ax - bx) / length, 0)
      index.push(first, first + 1, first + 2, first, first + 2, first + 3)
    })
  }
}
