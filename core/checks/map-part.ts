import type { MapPlane, MaterialMap } from '../material/map.ts'
import { tileSide } from '../material/tiles.ts'
import type { BoxMm } from './finding.ts'

/** Pixels of a map, right and bottom exclusive. */
export interface MapPart {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

type Size = Pick<MaterialMap, 'width' | 'height' | 'widthMm' | 'heightMm'>

/** The whole tiles that a box comes near. @param aroundMm how far beyond the box */
export function partOfMap({ width, height, widthMm, heightMm }: Size, box: BoxMm, aroundMm: number): MapPart {
  const first = (pixel: number) => Math.max(0, Math.floor(pixel / tileSide) * tileSide)
  const end = (pixel: number, most: number) =>
    Math.max(0, Math.min(most, Math.ceil(pixel / tileSide) * tileSide))
  return {
    left: first(((box.leftMm - aroundMm) / widthMm) * width),
    top: first((1 - (box.topMm + aroundMm) / heightMm) * height),
    right: end(((box.rightMm + aroundMm) / widthMm) * width, width),
    bottom: end((1 - (box.bottomMm - aroundMm) / heightMm) * height, height),
  }
}

/** A plane of a map of which there is nothing outside of a part. */
export function planeWithin(plane: MapPlane, { width, height }: Size, part: MapPart): MapPlane {
  if (plane.layout === 'tiles') {
    const perRow = Math.ceil(width / plane.tile)
    const index = plane.index.map((block, i) => {
      const [x, y] = [(i % perRow) * plane.tile, Math.floor(i / perRow) * plane.tile]
      return x + plane.tile > part.left && x < part.right && y + plane.tile > part.top && y < part.bottom
        ? block
        : -1
    })
    return { ...plane, index }
  }
  const { components, data } = plane
  const out = data.slice().fill(0)
  const size = { width, height }
  for (let y = part.top; y < Math.min(part.bottom, size.height); y++) {
    const [from, to] = [(y * width + part.left) * components, (y * width + part.right) * components]
    if (to > from) out.set(data.subarray(from, to), from)
  }
  return { ...plane, data: out }
}
