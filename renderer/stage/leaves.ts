import {
  BufferGeometry,
  Float32BufferAttribute,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  ShapeUtils,
  Scene as ThreeScene,
  Vector2,
} from 'three'
import type { Leaf, LeafPoint, Solid } from '../../core/reference/solid.ts'

/** A leaf as meshes, with its own frame's matrix. */
export interface LeafMeshes {
  leaf: Leaf
  readonly print: Mesh
  readonly board: Mesh
}

/** The leaves of a solid, ready to be drawn: first all depths, then one leaf after the other. */
export class Leaves {
  readonly #world = new ThreeScene()
  readonly #depth = new MeshBasicMaterial({
    colorWrite: false,
    // A little farther than the faces themselves, which are drawn by other programs.
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
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

  /** Leaves of the same shape only move. */
  setSolid({ leaves }: Solid): void {
    const same =
      leaves.length === this.#leaves.length &&
      leaves.every((leaf, i) => sameShape(leaf, this.#leaves[i]!.leaf))
    if (!same) this.#rebuild(leaves)
    leaves.forEach((leaf, i) => {
      const meshes = this.#leaves[i]!
      meshes.leaf = leaf
    })
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
    this.#clear()
    this.#depth.dispose()
  }

  #rebuild(leaves: readonly Leaf[]): void {
    this.#clear()
    this.#leaves = leaves.map(leaf => ({
      leaf,
      print: still(new Mesh(printFace(leaf.outline), this.#depth)),
      board: still(new Mesh(boardFaces(leaf), this.#depth)),
    }))
    for (const { print, board } of this.#leaves) this.#world.add(print, board)
  }

  #clear(): void {
    for (const { print, board } of this.#leaves) {
      this.#world.remove(print, board)
      print.geometry.dispose()
      board.geometry.dispose()
    }
    this.#leaves = []
  }
}

function still(mesh: Mesh): Mesh {
  mesh.matrixAutoUpdate = false
  mesh.frustumCulled = false
  return mesh
}

function sameShape(a: Leaf, b: Leaf): boolean {
  return (
    a.caliperMm === b.caliperMm &&
    a.outline.length === b.outline.length &&
    a.outline.every(([x, y], i) => x === b.outline[i]![0] && y === b.outline[i]![1])
  )
}

const triangles = (outline: readonly LeafPoint[]) =>
  ShapeUtils.triangulateShape(
    outline.map(([x, y]) => new Vector2(x, y)),
    [],
  )

export function printFace(outline: readonly LeafPoint[]): BufferGeometry {
  const geometry = new BufferGeometry()
  geometry.setAttribute(
    'position',
    new Float32BufferAttribute(
      outline.flatMap(([x, y]) => [x, y, 0]),
      3,
    ),
  )
  geometry.setIndex(triangles(outline).flat())
  return geometry
}

/** The back, and a wall under every cut side of the outline. */
function boardFaces({ outline, cut, caliperMm }: Leaf): BufferGeometry {
  const position: number[] = []
  const normal: number[] = []
  const index: number[] = []
  for (const [x, y] of caliperMm > 0 ? outline : []) {
    position.push(x, y, -caliperMm)
    normal.push(0, 0, -1)
  }
  if (caliperMm > 0) {
    for (const [a, b, c] of triangles(outline)) index.push(a!, c!, b!)
    outline.forEach(([ax, ay], i) => {
      const [bx, by] = outline[(i + 1) % outline.length]!
      const length = Math.hypot(bx - ax, by - ay)
      if (length === 0 || cut?.[i] === false) return
      const first = position.length / 3
      position.push(ax, ay, 0, ax, ay, -caliperMm, bx, by, -caliperMm, bx, by, 0)
      for (let corner = 0; corner < 4; corner++) normal.push((by - ay) / length, (ax - bx) / length, 0)
      index.push(first, first + 1, first + 2, first, first + 2, first + 3)
    })
  }
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new Float32BufferAttribute(position, 3))
  geometry.setAttribute('normal', new Float32BufferAttribute(normal, 3))
  geometry.setIndex(index)
  return geometry
}
