import type { Box, OutlinePath } from './layer.ts'
import { flattenOutline, type Polygon } from './raster-path.ts'

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
  /** Sorted ends of the intervals inside the shape on the line at `y` (even-odd rule). */
  line(y: number): number[]
}

function shapesOf(paths: readonly OutlinePath[], ppi: number, height: number): Shape[] {
  const groups: { combine: OutlinePath['combine']; polygons: Polygon[] }[] = []
  for (const path of paths) {
    const polygon = flattenOutline(path, ppi, height)
    const last = groups.at(-1)
    if (path.continues && last) last.polygons.push(polygon)
    else groups.push({ combine: path.combine, polygons: [polygon] })
  }
  return groups.map(group => shapeOf(group.combine, group.polygons))
}

function shapeOf(how: OutlinePath['combine'], polygons: readonly Polygon[]): Shape {
  const edges = edgesOf(polygons)
  const bands = new Map<number, number[]>()
  edges.forEach((edge, i) => {
    for (let band = Math.floor(edge.top / bandHeight); band <= Math.floor(edge.bottom / bandHeight); band++) {
      const list = bands.get(band)
      if (list) list.push(i)
      else bands.set(band, [i])
    }
  })
  return {
    combine: how,
    line: y => {
      const out: number[] = []
      for (const i of bands.get(Math.floor(y / bandHeight)) ?? []) {
        const edge = edges[i]!
        if (y >= edge.top && y < edge.bottom) out.push(edge.x + (y - edge.top) * edge.slope)
      }
      return out.sort((a, b) => a - b)
    },
  }
}

/** Pixels of y that share one list of edges. */
const bandHeight = 8

interface Edge {
  readonly top: number
  readonly bottom: number
  /** At `top`. */
  readonly x: number
  /** dx/dy */
  readonly slope: number
}

function edgesOf(polygons: readonly Polygon[]): Edge[] {
  const edges: Edge[] = []
  for (const p of polygons)
    for (let i = 0; i < p.length; i += 2) {
      const j = (i + 2) % p.length
      const [x0, y0, x1, y1] = [p[i]!, p[i + 1]!, p[j]!, p[j + 1]!]
      if (y0 === y1) continue
      const slope = (x1 - x0) / (y1 - y0)
      edges.push(y0 < y1 ? { top: y0, bottom: y1, x: x0, slope } : { top: y1, bottom: y0, x: x1, slope })
    }
  return edges
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
