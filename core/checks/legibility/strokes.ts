import { distances } from './distance.ts'
import type { GlyphRaster } from './raster.ts'

/** Widths of strokes along their middle lines. */
export interface StrokeWidths {
  /** Width that one twentieth of the middle line stays under: the line weight that a plate must hold, mm. */
  readonly thinMm: number
  /** Of half of the middle line, mm. */
  readonly middleMm: number
}

/**
 * A pixel lies on a middle line where the distance neither grows nor falls: the edges to both sides are equally near
 * and face each other. On the bisector of a right-angled corner the slope is 0.71, so corners do not count as thin.
 */
const flatSlope = 0.6

const thinPart = 0.05

/** Sums widths that {@link addWidths} collected; null where there is none. */
export function strokeWidths(widths: number[]): StrokeWidths | null {
  if (widths.length === 0) return null
  widths.sort((a, b) => a - b)
  const at = (part: number) => widths[Math.min(widths.length - 1, Math.floor(part * widths.length))]!
  return { thinMm: at(thinPart), middleMm: at(0.5) }
}

/** Adds the widths of a raster's strokes along their middle lines, mm, each within a pixel. */
export function addWidths({ inside, width, height, pixelMm }: GlyphRaster, widths: number[]): void {
  const d = distances(inside, width, height)
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x
      const here = d[i]!
      if (here === 0) continue
      const [left, right, up, down] = [d[i - 1]!, d[i + 1]!, d[i - width]!, d[i + width]!]
      const crossX = here >= left && here >= right && (here > left || here > right)
      const crossY = here >= up && here >= down && (here > up || here > down)
      if (!(crossX || crossY)) continue
      if (Math.hypot(right - left, down - up) / 2 > flatSlope) continue
      // The far neighbour across the stroke: as far inside for an even width, one less for an odd one.
      const across = Math.min(crossX ? Math.max(left, right) : here, crossY ? Math.max(up, down) : here)
      widths.push((here + across) * pixelMm)
    }
}
