import { EdgeMaker, type Edges } from './ink/edges.ts'
import type { Box, OutlinePath } from './layer.ts'
import { flattenOutline } from './raster-path.ts'

/** Outlines to fill, in the order in which they combine. */
export interface Fill {
  readonly paths: readonly OutlinePath[]
  /** The plane starts full rather than empty. */
  readonly startsFull: boolean
}

/** Scan lines a pixel: coverage is exact along x, and off by at most 1/32 where an edge runs along a pixel row. */
const linesPerPixel = 16

/**
 * Coverage of the combined outlines over a box, 0..1, row by row. The shapes are combined as sets of intervals on
 * each scan line, so that edges which two shapes share leave no seam.
 * @param ppi     pixels per inch of the document
 * @param height  document height, pixels
 */
export function fillCoverage(fill: Fill, box: Box, ppi: number, height: number): Float32Array {
  const width = box.right - box.left
  const rows = box.bottom - box.top
  const out = new Float32Array(width * rows)
  const shapes = shapesOf(fill.paths, ppi, height)
  const cover = new Float64Array(width + 2)
  for (let row = 0; row < rows; row++) {
    cover.fill(0)
    for (let line = 0; line < linesPerPixel; line++) {
      const y = box.top + row + (line + 0.5) / linesPerPixel
      let set: number[] = fill.startsFull ? [box.left, box.right] : []
      for (const shape of shapes) set = combine(set, shape.line(y), shape.combine)
      for (let i = 0; i + 1 < set.length; i += 2)
        addSpan(cover, set[i]! - box.left, set[i + 1]! - box.left, width)
    }
    let sum = 0
    for (let x = 0; x < width; x++) {
      sum += cover[x]!
      out[row * width + x] = Math.min(1, Math.max(0, sum / linesPerPixel))
    }
  }
  return out
}

/** Adds a span's coverage as differences along x, so that a running sum gives each pixel's share. */
function addSpan(cover: Float64Array, from: number, to: number, width: number): void {
  addEdge(cover, Math.min(width, Math.max(0, from)), 1)
  addEdge(cover, Math.min(width, Math.max(0, to)), -1)
}

function addEdge(cover: Float64Array, x: number, sign: number): void {
  const cell = Math.floor(x)
  const part = x - cell
  cover[cell]! += sign * (1 - part)
  cover[cell + 1]! += sign * part
}

interface Shape {
  readonly combine: OutlinePath['combine']
  /** Sorted ends of the intervals inside the shape on the line at `y` (even-odd rule). Lines come from the top down. */
  line(y: number): number[]
}

function shapesOf(paths: readonly OutlinePath[], ppi: number, height: number): Shape[] {
  const groups: { combine: OutlinePath['combine']; maker: EdgeMaker }[] = []
  for (const path of paths) {
    if (!path.continues || groups.length === 0) groups.push({ combine: path.combine, maker: new EdgeMaker() })
    flattenOutline(path, ppi, height, groups.at(-1)!.maker)
  }
  return groups.map(group => shapeOf(group.combine, group.maker.edges()))
}

function shapeOf(how: OutlinePath['combine'], edges: Edges): Shape {
  let next = 0
  let active: number[] = []
  return {
    combine: how,
    line: y => {
      const row = Math.floor(y)
      active = active.filter(i => edges.bottom[i]! > y)
      for (; next < edges.count && Math.floor(edges.top[next]!) <= row; next++)
        if (edges.bottom[next]! > y) active.push(next)
      const out: number[] = []
      for (const i of active)
        if (y >= edges.top[i]!) out.push(edges.x[i]! + (y - edges.top[i]!) * edges.slope[i]!)
      return out.sort((a, b) => a - b)
    },
  }
}

/** Joins two sorted interval sets: sweeps the ends and keeps where the rule holds. */
function combine(a: readonly number[], b: readonly number[], how: OutlinePath['combine']): number[] {
  const out: number[] = []
  let i = 0
  let j = 0
  let inside = false
  while (i < a.length || j < b.length) {
    const x = Math.min(a[i] ?? Number.POSITIVE_INFINITY, b[j] ?? Number.POSITIVE_INFINITY)
    while (a[i] === x) i++
    while (b[j] === x) j++
    const now = holds(i % 2 === 1, j % 2 === 1, how)
    if (now !== inside) out.push(x)
    inside = now
  }
  return out
}

function holds(a: boolean, b: boolean, how: OutlinePath['combine']): boolean {
  switch (how) {
    case 'unite':
      return a || b
    case 'subtract':
      return a && !b
    case 'intersect':
      return a && b
    case 'exclude':
      return a !== b
  }
}
