import type { BoxMm } from '../finding.ts'
import type { Size } from './object.ts'
import { emptyRaster, type GlyphSource, type PixelBox } from './raster.ts'

/** Samples that say how much of the object is where, 0..1; outside there is none. */
export interface Samples {
  /** First column and row among those of the whole, y down. */
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
  readonly data: Float32Array
  /** Samples along the whole art's sides. */
  readonly acrossArt: number
  readonly downArt: number
}

/** Parts of a map's pixel that are looked at along each side. */
const looks = 4

/**
 * Glyphs of samples: at a finer resolution they reach to where the straight line between samples passes a value that
 * keeps their area. So smoothed edges keep their place to a fraction of a sample, and strokes narrower than one their
 * weight.
 */
export function sampledGlyphs(samples: Samples, map: Size & { width: number; height: number }): GlyphSource {
  const { left, top, width, height, data, acrossArt, downArt } = samples
  const at = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width || y >= height ? 0 : Math.min(1, data[y * width + x]!)
  return {
    kind: 'samples',
    raster: (box, ppi) => {
      const raster = emptyRaster(box, ppi)
      const { leftMm, topMm, pixelMm, inside } = raster
      const perX = acrossArt / map.widthMm
      const perY = downArt / map.heightMm
      const counts = new Uint32Array(256)
      let area = 0
      for (let row = 0; row < raster.height; row++) {
        const y = (map.heightMm - topMm + (row + 0.5) * pixelMm) * perY - top
        const y0 = Math.floor(y - 0.5)
        const v = y - 0.5 - y0
        for (let column = 0; column < raster.width; column++) {
          const x = (leftMm + (column + 0.5) * pixelMm) * perX - left
          const x0 = Math.floor(x - 0.5)
          const u = x - 0.5 - x0
          const upper = at(x0, y0) * (1 - u) + at(x0 + 1, y0) * u
          const lower = at(x0, y0 + 1) * (1 - u) + at(x0 + 1, y0 + 1) * u
          const level = Math.round(255 * (upper * (1 - v) + lower * v))
          inside[row * raster.width + column] = level
          counts[level]!++
          area += at(Math.floor(x), Math.floor(y))
        }
      }
      const least = levelOfArea(counts, area)
      for (let i = 0; i < inside.length; i++) inside[i] = inside[i]! >= least ? 1 : 0
      return raster
    },
    shares: box => {
      const columns = box.right - box.left
      const out = new Float32Array(columns * (box.bottom - box.top))
      for (let y = box.top; y < box.bottom; y++)
        for (let x = box.left; x < box.right; x++) {
          let sum = 0
          for (let j = 0; j < looks; j++)
            for (let i = 0; i < looks; i++)
              sum += at(
                Math.floor(((x + (i + 0.5) / looks) * acrossArt) / map.width) - left,
                Math.floor(((y + (j + 0.5) / looks) * downArt) / map.height) - top,
              )
          out[(y - box.top) * columns + x - box.left] = sum / (looks * looks)
        }
      return out
    },
  }
}

/** The level, 1..255, from which on the counts sum closest to an area. */
function levelOfArea(counts: Uint32Array, area: number): number {
  let sum = 0
  for (let level = 255; level > 1; level--) {
    const next = sum + counts[level]!
    if (next >= area) return next - area <= area - sum ? level : Math.min(255, level + 1)
    sum = next
  }
  return 1
}

/** Samples of a grid over the whole art that a box touches, cut to the art. */
export function samplesUnder(
  box: BoxMm,
  { widthMm, heightMm }: Size,
  { width, height }: { readonly width: number; readonly height: number },
): PixelBox {
  const x = (mm: number) => (mm / widthMm) * width
  const y = (mm: number) => (1 - mm / heightMm) * height
  return {
    left: Math.max(0, Math.floor(x(box.leftMm))),
    right: Math.min(width, Math.ceil(x(box.rightMm))),
    top: Math.max(0, Math.floor(y(box.topMm))),
    bottom: Math.min(height, Math.ceil(y(box.bottomMm))),
  }
}
