import type { Art, Box, Layer, OutlinePath } from '../../art/layer.ts'
import { fillCoverage } from '../../art/raster-fill.ts'
import type { CoverageRows } from '../../material/coverage.ts'
import { isOutlined as layerIsOutlined } from '../../material/drawn-shapes.ts'
import type { Source } from '../../material/plates.ts'
import type { RowPicture } from './row-picture.ts'

/** Least resolution at which the edge of an outline is followed. */
const outlinePpi = 1200
/** Most pixels along either side of such a picture. */
const mostPixels = 20_000

/** Whether a source's edge is its outline and nothing else: a plain shape, as solid as it can be. */
export const isOutlined = (art: Art, source: Source): boolean =>
  source.kind === 'layers' &&
  source.amount.from === 'alpha' &&
  source.layers.length === 1 &&
  layerIsOutlined(art, source.layers[0]!)

/** How many times finer than the art its outlines are followed. */
function timesFiner({ resolutionPpi, width, height }: Art): number {
  const most = Math.floor(mostPixels / Math.max(width, height))
  return Math.max(1, Math.min(most, Math.ceil(outlinePpi / (resolutionPpi ?? 72))))
}

/** Outlined sources as one picture of at least 1200 ppi, so that their edges run where they were drawn; null for none. */
export function outlinedRows(art: Art, sources: readonly Source[]): RowPicture | null {
  const layers = sources.flatMap(source => (source.kind === 'layers' ? source.layers : []))
  if (layers.length === 0) return null
  const ppi = art.resolutionPpi ?? 72
  const k = timesFiner(art)
  const size = { width: art.width * k, height: art.height * k, ppi: ppi * k }
  return { ...size, parts: layers.map(layer => rowsOf(layer, size)) }
}

interface Size {
  readonly width: number
  readonly height: number
  readonly ppi: number
}

function rowsOf({ vectorMask }: Layer, size: Size): CoverageRows {
  const { paths, startsFull } = vectorMask!
  const reach = startsFull ? { left: 0, top: 0, right: size.width, bottom: size.height } : boxOf(paths, size)
  return {
    over: async (top, bottom) => {
      const box = { ...reach, top: Math.max(top, reach.top), bottom: Math.min(bottom, reach.bottom) }
      if (box.top >= box.bottom || box.left >= box.right) return null
      return { box, data: fillCoverage({ paths, startsFull }, box, size.ppi, size.height), surface: null }
    },
  }
}

/** Pixels around all knots and what pulls at them. */
function boxOf(paths: readonly OutlinePath[], { width, height, ppi }: Size): Box {
  const places = paths.flatMap(({ knots }) => knots.flatMap(knot => [knot.in, knot.at, knot.out]))
  const scale = ppi / 25.4
  const box = { left: width, top: height, right: 0, bottom: 0 }
  for (const [x, y] of places) {
    box.left = Math.min(box.left, Math.max(0, Math.floor(x * scale)))
    box.right = Math.max(box.right, Math.min(width, Math.ceil(x * scale)))
    box.top = Math.min(box.top, Math.max(0, Math.floor(height - y * scale)))
    box.bottom = Math.max(box.bottom, Math.min(height, Math.ceil(height - y * scale)))
  }
  return box
}
