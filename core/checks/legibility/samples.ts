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
  const frame = withFrame(samples)
  const own = acrossArt === map.width && downArt === map.height
  return {
    kind: 'samples',
    raster: (box, ppi) => {
      const raster = emptyRaster(box, ppi)
      const { leftMm, topMm, pixelMm, inside } = raster
      const perX = acrossArt / map.widthMm
      const perY = downArt / map.heightMm
      const counts = new Uint32Array(256)
      let area = 0
      // Of each column: the sample to its left, and how far it lies on the way to the next.
      const before = new Int32Array(raster.width)
      const way = new Float32Array(raster.width)
      for (let column = 0; column < raster.width; column++) {
        const x = (leftMm + (column + 0.5) * pixelMm) * perX - left - 0.5
        before[column] = framed(Math.floor(x), width)
        way[column] = x - Math.floor(x)
      }
      for (let row = 0; row < raster.height; row++) {
        const y = (map.heightMm - topMm + (row + 0.5) * pixelMm) * perY - top - 0.5
        const v = y - Math.floor(y)
        const upper = framed(Math.floor(y), height) * (width + 3)
        const lower = upper + width + 3
        const nearest = v < 0.5 ? upper : lower
        for (let column = 0, to = row * raster.width; column < raster.width; column++, to++) {
          const x0 = before[column]!
          const u = way[column]!
          const above = frame[upper + x0]! * (1 - u) + frame[upper + x0 + 1]! * u
          const below = frame[lower + x0]! * (1 - u) + frame[lower + x0 + 1]! * u
          const level = Math.round(255 * (above * (1 - v) + below * v))
          inside[to] = level
          counts[level]!++
          area += frame[nearest + (u < 0.5 ? x0 : x0 + 1)]!
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
          if (own) {
            out[(y - box.top) * columns + x - box.left] = at(x - left, y - top)
            continue
          }
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

/** Samples with one of nothing to the left and above, and two to the right and below: rows of width + 3. */
function withFrame({ data, width, height }: Samples): Float32Array {
  const out = new Float32Array((width + 3) * (height + 3))
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) out[(y + 1) * (width + 3) + x + 1] = Math.min(1, data[y * width + x]!)
  return out
}

/** Index in the frame of a sample, or of one beyond it that with its next is nothing. */
const framed = (i: number, count: number): number => (i < -1 ? count + 1 : Math.min(count, i) + 1)

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
