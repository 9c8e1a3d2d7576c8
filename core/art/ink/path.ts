import { type Matrix, type Path, pathStep } from './mark.ts'

/** Writes a path step by step. */
export class PathWriter {
  #steps = new Uint8Array(64)
  #points = new Float64Array(256)
  #stepCount = 0
  #numberCount = 0

  get isEmpty(): boolean {
    return this.#stepCount === 0
  }

  /** Numbers of its points so far. */
  get length(): number {
    return this.#numberCount
  }

  move(x: number, y: number): void {
    this.#step(pathStep.move)
    this.#point(x, y)
  }

  line(x: number, y: number): void {
    this.#step(pathStep.line)
    this.#point(x, y)
  }

  /** Two controls, the end. */
  curve(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    this.#step(pathStep.curve)
    this.#point(x1, y1)
    this.#point(x2, y2)
    this.#point(x, y)
  }

  close(): void {
    this.#step(pathStep.close)
  }

  /** All of another path, each point as the matrix takes it. */
  add({ steps, points }: Path, [a, b, c, d, e, f]: Matrix): void {
    for (const step of steps) this.#step(step)
    for (let i = 0; i < points.length; i += 2) {
      const x = points[i]!
      const y = points[i + 1]!
      this.#point(a * x + c * y + e, b * x + d * y + f)
    }
  }

  path(): Path {
    return {
      steps: this.#steps.slice(0, this.#stepCount),
      points: this.#points.slice(0, this.#numberCount),
    }
  }

  #step(step: number): void {
    if (this.#stepCount === this.#steps.length) {
      const more = new Uint8Array(2 * this.#steps.length)
      more.set(this.#steps)
      this.#steps = more
    }
    this.#steps[this.#stepCount++] = step
  }

  #point(x: number, y: number): void {
    if (this.#numberCount === this.#points.length) {
      const more = new Float64Array(2 * this.#points.length)
      more.set(this.#points)
      this.#points = more
    }
    this.#points[this.#numberCount++] = x
    this.#points[this.#numberCount++] = y
  }
}

/** The path as the matrix takes it. */
export function moved(path: Path, matrix: Matrix): Path {
  const writer = new PathWriter()
  writer.add(path, matrix)
  return writer.path()
}

/** A box as a path: left, bottom, right, top. */
export function boxPath([left, bottom, right, top]: readonly [number, number, number, number]): Path {
  return {
    steps: Uint8Array.of(pathStep.move, pathStep.line, pathStep.line, pathStep.line, pathStep.close),
    points: Float64Array.of(left, bottom, right, bottom, right, top, left, top),
  }
}
