import type { Art } from '../art/layer.ts'
import { BadInput } from '../base/finding.ts'
import { type Spans, spans } from './spans.ts'

/** How document pixels fall on map pixels along one side. */
export interface Axis extends Spans {
  /** Document pixels along the side. */
  readonly from: number
  /** Map pixels are smaller than document pixels: each takes the nearest one. */
  readonly enlarges: boolean
}

/** The map's pixels, and the document pixels under them. */
export interface Grid {
  readonly width: number
  readonly height: number
  readonly widthMm: number
  readonly heightMm: number
  readonly columns: Axis
  readonly rows: Axis
}

/** Pixels that a map may have; at 20 bytes each they fill 2 GB. */
export const mostPixels = 100_000_000

/** Throws BadInput when the resolution asks for more pixels than a map may have. */
export function gridOf(
  art: Art,
  panel: { readonly widthMm: number; readonly heightMm: number; readonly resolutionPpi: number },
): Grid {
  const { widthMm, heightMm, resolutionPpi } = panel
  const width = Math.max(1, Math.round((widthMm / 25.4) * resolutionPpi))
  const height = Math.max(1, Math.round((heightMm / 25.4) * resolutionPpi))
  if (width * height > mostPixels)
    throw new BadInput(
      'map-too-large',
      art.name,
      `${widthMm} × ${heightMm} mm at ${resolutionPpi} ppi`,
      `${width} × ${height} pixels, more than the ${mostPixels / 1e6} million a map may have`,
      'Choose a lower resolution.',
    )
  return { width, height, widthMm, heightMm, columns: axis(art.width, width), rows: axis(art.height, height) }
}

/** The grid of a map that is there already. */
export function gridUnder(art: Art, size: Pick<Grid, 'width' | 'height' | 'widthMm' | 'heightMm'>): Grid {
  const { width, height, widthMm, heightMm } = size
  return { width, height, widthMm, heightMm, columns: axis(art.width, width), rows: axis(art.height, height) }
}

/** The same panel with pixels `n` times as long and wide. */
export function coarser(grid: Grid, n: number): Grid {
  const width = Math.max(1, Math.floor(grid.width / n))
  const height = Math.max(1, Math.floor(grid.height / n))
  return {
    ...grid,
    width,
    height,
    columns: axis(grid.columns.from, width),
    rows: axis(grid.rows.from, height),
  }
}

/** The same map on a document that has its pixels. */
export function onItself(grid: Grid): Grid {
  const { width, height } = grid
  return { ...grid, columns: axis(width, width), rows: axis(height, height) }
}

function axis(from: number, to: number): Axis {
  if (to < from) return { ...spans(from, to), from, enlarges: false }
  const start = Int32Array.from({ length: to }, (_, i) =>
    Math.min(from - 1, Math.floor(((i + 0.5) * from) / to)),
  )
  const count = new Int32Array(to).fill(1)
  return { size: to, start, count, weights: new Float64Array(to).fill(1), most: 1, from, enlarges: to > from }
}

/** Document pixels first..end (exclusive) under map pixels from..to (exclusive, at least one). */
export function under(axis: Axis, from: number, to: number): readonly [first: number, end: number] {
  return [axis.start[from]!, axis.start[to - 1]! + axis.count[to - 1]!]
}

/** Map pixels first..end (exclusive) that have one of the document pixels from..to (exclusive) under them. */
export function over(axis: Axis, from: number, to: number): readonly [first: number, end: number] {
  let first = Math.max(0, Math.floor((from * axis.size) / axis.from) - 2)
  while (first < axis.size && axis.start[first]! + axis.count[first]! <= from) first++
  let end = Math.min(axis.size, Math.ceil((to * axis.size) / axis.from) + 2)
  while (end > first && axis.start[end - 1]! >= to) end--
  return [first, end]
}

/** Where document pixel `child` under map pixel `i` lies along a side of `length` mm: its middle, or the map pixel's when that is smaller. */
export function middle(axis: Axis, i: number, child: number, length: number): number {
  return axis.enlarges ? ((i + 0.5) * length) / axis.size : ((child + 0.5) * length) / axis.from
}
