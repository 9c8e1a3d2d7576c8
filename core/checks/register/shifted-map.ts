import type { MapPlane, MaterialMap, PlaneData } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { viewSetPlane, viewsPlane } from '../../material/views.ts'
import {
  type Affine,
  asDrawn,
  inverseOf,
  isStill,
  type Motions,
  movedPoint,
  onCut,
  type PrintedGroup,
  turnOf,
} from './groups.ts'

/**
 * The map with its groups moved, for the picture: coverages are weighed between the four pixels that a moved one lies
 * on, areas, gratings and views are taken from the nearest. A die that slipped moves everything the other way; metal lies
 * with the holography, varnish with the colours, and the noise of a mottled white stays where it is. Gratings turn with their
 * group; views, which look toward an eye, do not.
 * Planes that nothing moves stay the same ones.
 */
export function shiftedMap(map: MaterialMap, motions: Motions): MaterialMap {
  const planes = new Map(map.planes)
  const lies = onCut(motions, [map.widthMm / 2, map.heightMm / 2])
  for (const [group, names] of groupPlanes(map)) {
    if (isStill(motions[group] ?? asDrawn) && isStill(motions.die ?? asDrawn)) continue
    const back = pixelsBack(map, inverseOf(lies[group]))
    for (const { name, weighed, turns } of names) {
      const plane = planes.get(name)
      if (plane === undefined) continue
      const moved =
        weighed && plane.layout === 'full' ? weighedPlane(plane, map, back) : nearestPlane(plane, map, back)
      if (turns) turnVectors(moved.data, turnOf(lies[group]))
      planes.set(name, moved)
    }
  }
  return { ...map, planes }
}

interface GroupPlane {
  readonly name: string
  /** Amounts can be weighed, numbers that name something cannot. */
  readonly weighed: boolean
  /** Holds vectors that turn with the group. */
  readonly turns: boolean
}

function groupPlanes(map: MaterialMap): readonly (readonly [PrintedGroup, readonly GroupPlane[]])[] {
  const amount = (name: string): GroupPlane => ({ name, weighed: true, turns: false })
  const number = (name: string): GroupPlane => ({ name, weighed: false, turns: false })
  return [
    [
      'holography',
      [
        amount('metal'),
        ...['area', viewSetPlane, viewsPlane].map(number),
        ...map.gratings.flatMap(({ kappa, spread, relief }) => [
          { name: kappa, weighed: false, turns: true },
          number(spread),
          number(relief),
        ]),
      ],
    ],
    ['white', map.whites.map(white => amount(white.coverage))],
    [
      'colour',
      [
        ...['C', 'M', 'Y', 'K'].map(amount),
        ...map.spots.map(spot => amount(spot.coverage)),
        ...(map.varnish === null ? [] : [amount(map.varnish)]),
      ],
    ],
  ]
}

/** From the middle of a pixel to where it came from, both in pixels, y down. */
function pixelsBack({ width, height, widthMm, heightMm }: MaterialMap, back: Affine): Affine {
  const [sx, sy] = [width / widthMm, height / heightMm]
  const xy = (-back.xy * sx) / sy
  const yx = (-back.yx * sy) / sx
  const [x0, y0] = movedPoint(back, [0, heightMm])
  return { xx: back.xx, xy, yx, yy: back.yy, x0: x0 * sx, y0: (heightMm - y0) * sy }
}

function weighedPlane(
  { components, data }: MapPlane,
  { width, height }: MaterialMap,
  back: Affine,
): MapPlane & { readonly layout: 'full' } {
  const out = emptyLike(data, data.length)
  // Art that bled off the map goes on beyond it.
  const onto = (at: number, count: number) => (at < 0 ? 0 : at >= count ? count - 1 : at)
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const fx = back.xx * (x + 0.5) + back.xy * (y + 0.5) + back.x0 - 0.5
      const fy = back.yx * (x + 0.5) + back.yy * (y + 0.5) + back.y0 - 0.5
      const column = Math.floor(fx)
      const row = Math.floor(fy)
      const [px, py] = [fx - column, fy - row]
      const left = onto(column, width) * components
      const right = onto(column + 1, width) * components
      const above = onto(row, height) * width * components
      const below = onto(row + 1, height) * width * components
      for (let c = 0; c < components; c++, i++) {
        const upper = (1 - px) * data[above + left + c]! + px * data[above + right + c]!
        const lower = (1 - px) * data[below + left + c]! + px * data[below + right + c]!
        out[i] = Math.round((1 - py) * upper + py * lower)
      }
    }
  return { layout: 'full', components, data: out }
}

/** Laid out as it was. A tile that only empty ones reach stays empty. */
function nearestPlane(plane: MapPlane, { width, height }: MaterialMap, back: Affine): MapPlane {
  const reader = new PlaneReader(plane, width)
  const { components } = plane
  const source = (x: number, y: number): number => {
    const fx = Math.floor(back.xx * (x + 0.5) + back.xy * (y + 0.5) + back.x0)
    const fy = Math.floor(back.yx * (x + 0.5) + back.yy * (y + 0.5) + back.y0)
    return fx < 0 || fy < 0 || fx >= width || fy >= height ? -1 : reader.at(fx, fy)
  }
  if (plane.layout === 'full') {
    const out = emptyLike(plane.data, plane.data.length)
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i += components) copy(plane.data, source(x, y), out, i, components)
    return { layout: 'full', components, data: out }
  }
  const { tile } = plane
  const across = Math.ceil(width / tile)
  const index = new Int32Array(plane.index.length).fill(-1)
  const blocks: PlaneData[] = []
  const size = tile * tile * components
  for (let number = 0; number < index.length; number++) {
    const left = (number % across) * tile
    const top = Math.floor(number / across) * tile
    let block: PlaneData | null = null
    for (let y = top; y < Math.min(height, top + tile); y++)
      for (let x = left; x < Math.min(width, left + tile); x++) {
        const from = source(x, y)
        if (from < 0) continue
        block ??= emptyLike(plane.data, size)
        copy(plane.data, from, block, ((y - top) * tile + x - left) * components, components)
      }
    if (block === null) continue
    index[number] = blocks.length
    blocks.push(block)
  }
  const data = emptyLike(plane.data, blocks.length * size)
  blocks.forEach((block, i) => {
    data.set(block, i * size)
  })
  return { layout: 'tiles', components, tile, index, data }
}

function copy(from: PlaneData, at: number, to: PlaneData, into: number, components: number): void {
  if (at < 0) return
  for (let c = 0; c < components; c++) to[into + c] = from[at + c]!
}

/** Turns pairs of components by an angle. */
function turnVectors(data: PlaneData, angle: number): void {
  if (angle === 0) return
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  for (let i = 0; i + 1 < data.length; i += 2) {
    const [x, y] = [data[i]!, data[i + 1]!]
    data[i] = Math.round(c * x - s * y)
    data[i + 1] = Math.round(s * x + c * y)
  }
}

function emptyLike(data: PlaneData, length: number): PlaneData {
  if (data instanceof Uint8Array) return new Uint8Array(length)
  return data instanceof Uint16Array ? new Uint16Array(length) : new Int16Array(length)
}
