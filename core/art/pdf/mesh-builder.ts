import type { Matrix } from '../ink/mark.ts'
import type { Mesh } from './shading-triangles.ts'

const mostTriangles = 1 << 21

/** Collects corners and triangles. */
export class MeshBuilder {
  readonly #points: number[] = []
  readonly #colors: number[] = []
  readonly #triangles: number[] = []
  readonly #components: number
  readonly #matrix: Matrix

  constructor(components: number, matrix: Matrix) {
    this.#components = components
    this.#matrix = matrix
  }

  get isFull(): boolean {
    return this.#triangles.length > 3 * mostTriangles
  }

  /** Takes a corner of the shading's space; returns its number. */
  corner(x: number, y: number, color: ArrayLike<number>): number {
    const [a, b, c, d, e, f] = this.#matrix
    this.#points.push(a * x + c * y + e, b * x + d * y + f)
    for (let i = 0; i < this.#components; i++) this.#colors.push(color[i]!)
    return this.#points.length / 2 - 1
  }

  triangle(i: number, j: number, k: number): void {
    this.#triangles.push(i, j, k)
  }

  mesh(): Mesh {
    return {
      points: Float64Array.from(this.#points),
      colors: Float32Array.from(this.#colors),
      components: this.#components,
      triangles: Uint32Array.from(this.#triangles),
    }
  }
}
