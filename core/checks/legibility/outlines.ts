import type { Art, OutlinePath, VectorMask } from '../../art/layer.ts'
import { fillCoverage } from '../../art/raster-fill.ts'
import type { MaterialMap } from '../../material/map.ts'
import { stretch } from './object.ts'
import { emptyRaster, type GlyphSource } from './raster.ts'

/** Glyphs of a layer's outlines, drawn at any resolution. */
export function outlineGlyphs(art: Art, mask: VectorMask, map: MaterialMap): GlyphSource {
  const [sx, sy] = stretch(art, map)
  const place = ([x, y]: readonly [number, number]): [number, number] => [x * sx, y * sy]
  const paths = mask.paths.map(
    (path): OutlinePath => ({
      ...path,
      knots: path.knots.map(knot => ({ in: place(knot.in), at: place(knot.at), out: place(knot.out) })),
    }),
  )
  const { startsFull } = mask
  const seen = (share: number) => (mask.inverted ? 1 - share : share)
  return {
    kind: 'outlines',
    raster: (box, ppi) => {
      const raster = emptyRaster(box, ppi)
      const { leftMm, topMm, width, height, pixelMm, inside } = raster
      // The drawing's lower left corner becomes the box's, so that its pixels begin at whole numbers.
      const shifted = paths.map(path => shift(path, -leftMm, height * pixelMm - topMm))
      const share = fillCoverage(
        { paths: shifted, startsFull },
        { left: 0, top: 0, right: width, bottom: height },
        ppi,
        height,
      )
      for (let i = 0; i < inside.length; i++) inside[i] = seen(share[i]!) >= 0.5 ? 1 : 0
      return raster
    },
    shares: box => {
      // One pixel of the map an inch, along both sides.
      const [px, py] = [map.width / map.widthMm, map.height / map.heightMm]
      const scaled = paths.map(path => scale(path, 25.4 * px, 25.4 * py))
      return fillCoverage({ paths: scaled, startsFull }, box, 1, map.height).map(seen)
    },
  }
}

type Move = (place: readonly [number, number]) => readonly [number, number]

const moved = (path: OutlinePath, move: Move): OutlinePath => ({
  ...path,
  knots: path.knots.map(knot => ({ in: move(knot.in), at: move(knot.at), out: move(knot.out) })),
})
const shift = (path: OutlinePath, dx: number, dy: number): OutlinePath =>
  moved(path, ([x, y]) => [x + dx, y + dy])
const scale = (path: OutlinePath, sx: number, sy: number): OutlinePath =>
  moved(path, ([x, y]) => [x * sx, y * sy])
