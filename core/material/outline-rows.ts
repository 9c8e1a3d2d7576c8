import type { Box } from '../art/layer.ts'
import { boundsOf, type Outline } from '../effects/outline.ts'
import type { Coverage, CoverageRows } from './covered.ts'

/** The document that an outline is laid on: its pixels, stretched over the panel. */
export interface Sheet {
  readonly width: number
  readonly height: number
  readonly widthMm: number
  readonly heightMm: number
}

/** Lines a pixel row; along a line coverage is exact, so a level edge is out by 1/32 of a pixel at most. */
const lines = 16

/** Document pixels that an outline touches; null where it has none on the panel. */
export function outlineBox({ width, height, widthMm, heightMm }: Sheet, outline: Outline): Box | null {
  const bounds = boundsOf(outline)
  if (bounds === null) return null
  const box: Box = {
    left: Math.max(0, Math.floor((bounds.leftMm / widthMm) * width)),
    right: Math.min(width, Math.ceil((bounds.rightMm / widthMm) * width)),
    top: Math.max(0, Math.floor((1 - bounds.topMm / heightMm) * height)),
    bottom: Math.min(height, Math.ceil((1 - bounds.bottomMm / heightMm) * height)),
  }
  return box.left < box.right && box.top < box.bottom ? box : null
}

/** How much of each document pixel lies in an outline, even-odd. */
export function outlineRows(sheet: Sheet, outline: Outline): CoverageRows {
  const whole = outlineBox(sheet, outline)
  const edges = edgesOf(sheet, outline)
  return {
    over: async (top, bottom) => {
      if (whole === null) return null
      const box = { ...whole, top: Math.max(top, whole.top), bottom: Math.min(bottom, whole.bottom) }
      return box.top < box.bottom ? rowsOf(box, edges) : null
    },
  }
}

/** A side of a ring in document pixels, y down, upper end first. */
interface Edge {
  readonly x: number
  readonly top: number
  readonly bottom: number
  /** Pixels to the right a pixel down. */
  readonly slope: number
}

function edgesOf({ width, height, widthMm, heightMm }: Sheet, { rings }: Outline): readonly Edge[] {
  const out: Edge[] = []
  for (const ring of rings)
    for (let i = 0; i < ring.length; i++) {
      const [from, to] = [ring.at(i - 1)!, ring[i]!]
      const [ax, ay] = [(from[0] / widthMm) * width, (1 - from[1] / heightMm) * height]
      const [bx, by] = [(to[0] / widthMm) * width, (1 - to[1] / heightMm) * height]
      if (ay === by) continue
      const slope = (bx - ax) / (by - ay)
      out.push(ay < by ? { x: ax, top: ay, bottom: by, slope } : { x: bx, top: by, bottom: ay, slope })
    }
  return out.sort((a, b) => a.top - b.top)
}

function rowsOf(box: Box, edges: readonly Edge[]): Coverage {
  const width = box.right - box.left
  const data = new Float32Array(width * (box.bottom - box.top))
  let active: Edge[] = []
  let next = 0
  for (let y = box.top; y < box.bottom; y++) {
    while (next < edges.length && edges[next]!.top < y + 1) active.push(edges[next++]!)
    active = active.filter(edge => edge.bottom > y)
    if (active.length === 0) continue
    const row = data.subarray((y - box.top) * width, (y - box.top + 1) * width)
    for (let line = 0; line < lines; line++) {
      const at = y + (line + 0.5) / lines
      const crossings = active
        .filter(edge => edge.top <= at && at < edge.bottom)
        .map(edge => edge.x + edge.slope * (at - edge.top) - box.left)
        .sort((a, b) => a - b)
      for (let i = 0; i + 1 < crossings.length; i += 2) fill(row, crossings[i]!, crossings[i + 1]!, 1 / lines)
    }
  }
  return { box, data, surface: null }
}

/** Adds `part` of a stretch from..to to the pixels that it covers. */
function fill(row: Float32Array, from: number, to: number, part: number): void {
  const left = Math.max(0, from)
  const right = Math.min(row.length, to)
  for (let x = Math.floor(left); x < right; x++)
    row[x]! += part * (Math.min(right, x + 1) - Math.max(left, x))
}
