import type { Box } from '../art/layer.ts'
import { type GratingChannel, kappaScale, type MapPlane, type MaterialMap, spreadScale } from './map.ts'
import { emptyMoment, GratingMean } from './moments.ts'
import { PlaneReader } from './plane.ts'
import { type Spans, spans } from './spans.ts'
import { evenly, GratingTiles, TileGrid, tileSide } from './tiles.ts'
import { halfViews } from './view-tiles.ts'
import { viewSetPlane, viewsPlane } from './views.ts'

/**
 * The map at half the resolution: each side ⌊n/2⌋, at least 1, every coarse pixel the mean of the fine ones under it
 * (with odd sides, of parts of them), so that mean coverage and structure tensor stay what they were. Rounding
 * leaves no drift from level to level (`evenly`). Area ids take the largest part.
 */
export function minify(map: MaterialMap): MaterialMap {
  const { columns, rows } = halves(map)
  const planes = new Map<string, MapPlane>()
  const holography = new Set(holographyPlanes(map))
  for (const [name, plane] of map.planes)
    if (!holography.has(name)) planes.set(name, half(plane, map.width, columns, rows))
  const size = { width: columns.size, height: rows.size }
  const all = new TileGrid(size.width, size.height)
  for (const [name, plane] of minifyHolography(map, all.all())) planes.set(name, plane)
  return { ...map, ...size, pixelsPerMm: size.width / map.widthMm, planes }
}

/** Names of the planes that holography writes: all that an edit of an effect can change. */
export function holographyPlanes(map: Pick<MaterialMap, 'gratings' | 'planes'>): readonly string[] {
  return [
    'area',
    ...map.gratings.flatMap(({ kappa, spread, relief }) => [kappa, spread, relief]),
    viewSetPlane,
    viewsPlane,
  ].filter(name => map.planes.has(name))
}

/**
 * The planes of holography at half the resolution, as far as some tiles of the coarser map reach: the rest is empty.
 * @param tiles  numbers of coarse tiles
 * @param wanted names of planes, of which those tiled alike come together; left out: all
 */
export function minifyHolography(
  map: MaterialMap,
  tiles: readonly number[],
  wanted: ReadonlySet<string> = new Set(holographyPlanes(map)),
): readonly (readonly [string, MapPlane])[] {
  const { columns, rows } = halves(map)
  const grid = new TileGrid(columns.size, rows.size)
  const boxes = tiles.map(tile => grid.box(tile))
  const area = map.planes.get('area')
  return [
    ...(area && wanted.has('area')
      ? [['area', halfIds(area, map.width, columns, rows, boxes)] as const]
      : []),
    ...(wanted.has(viewSetPlane) || wanted.has(viewsPlane) ? halfViews(map, columns, rows, boxes) : []),
    ...map.gratings
      .filter(({ kappa, spread, relief }) => [kappa, spread, relief].some(name => wanted.has(name)))
      .flatMap(channel => halfGrating(map, channel, columns, rows, boxes)),
  ]
}

/**
 * Numbers of the tiles at half the resolution that have one of these fine tiles under them, in rising order.
 * @param tiles of `map`
 */
export function tilesOver(
  map: Pick<MaterialMap, 'width' | 'height'>,
  tiles: readonly number[],
): readonly number[] {
  const { columns, rows } = halves(map)
  const fine = new TileGrid(map.width, map.height)
  const coarse = new TileGrid(columns.size, rows.size)
  const marked = new Uint8Array(fine.count)
  for (const tile of tiles) marked[tile] = 1
  return coarse.all().filter(tile => {
    const box = coarse.box(tile)
    const [left, right] = fineTiles(columns, box.left, box.right)
    const [top, bottom] = fineTiles(rows, box.top, box.bottom)
    for (let y = top; y <= bottom; y++)
      for (let x = left; x <= right; x++) if (marked[y * fine.perRow + x]) return true
    return false
  })
}

/** First and last fine tile under coarse pixels from..to. */
function fineTiles({ start, count }: Spans, from: number, to: number): readonly [number, number] {
  return [Math.floor(start[from]! / tileSide), Math.floor((start[to - 1]! + count[to - 1]! - 1) / tileSide)]
}

function halves({ width, height }: Pick<MaterialMap, 'width' | 'height'>) {
  return {
    columns: spans(width, Math.max(1, Math.floor(width / 2))),
    rows: spans(height, Math.max(1, Math.floor(height / 2))),
  }
}

/** The map and its coarser levels down to one pixel, finest first. */
export function pyramid(map: MaterialMap): readonly MaterialMap[] {
  const levels = [map]
  for (let level = map; level.width > 1 || level.height > 1; levels.push(level)) level = minify(level)
  return levels
}

function half(plane: MapPlane, width: number, columns: Spans, rows: Spans): MapPlane {
  const reader = new PlaneReader(plane, width)
  const { components } = plane
  const size = columns.size * rows.size * components
  const data = plane.data instanceof Uint8Array ? new Uint8Array(size) : new Uint16Array(size)
  let to = 0
  for (let y = 0; y < rows.size; y++)
    for (let x = 0; x < columns.size; x++)
      for (let c = 0; c < components; c++) {
        let sum = 0
        for (let j = 0; j < rows.count[y]!; j++) {
          const down = rows.weights[y * rows.most + j]!
          for (let i = 0; i < columns.count[x]!; i++) {
            const at = reader.at(columns.start[x]! + i, rows.start[y]! + j)
            if (at >= 0) sum += down * columns.weights[x * columns.most + i]! * reader.data[at + c]!
          }
        }
        data[to++] = evenly(sum, x, y)
      }
  return { layout: 'full', components, data }
}

function halfIds(
  plane: MapPlane,
  width: number,
  columns: Spans,
  rows: Spans,
  boxes: readonly Box[],
): MapPlane {
  const ids = new PlaneReader(plane, width)
  const size = columns.size * rows.size
  const data = plane.data instanceof Uint8Array ? new Uint8Array(size) : new Uint16Array(size)
  for (const { left, top, right, bottom } of boxes)
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) data[y * columns.size + x] = largestId(ids, columns, rows, x, y)
  return { layout: 'full', components: 1, data }
}

/** The id with the largest part of a coarse pixel, the higher of two equal. */
function largestId(ids: PlaneReader, columns: Spans, rows: Spans, x: number, y: number): number {
  const [left, across] = [columns.start[x]!, columns.count[x]!]
  const [top, down] = [rows.start[y]!, rows.count[y]!]
  const first = ids.data[ids.at(left, top)]!
  let alike = true
  for (let j = 0; j < down && alike; j++)
    for (let i = 0; i < across; i++) if (ids.data[ids.at(left + i, top + j)] !== first) alike = false
  if (alike) return first
  const parts = new Map<number, number>()
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++) {
      const id = ids.data[ids.at(left + i, top + j)]!
      const part = rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
      parts.set(id, (parts.get(id) ?? 0) + part)
    }
  // Sums of the same parts in another order differ in the last digits.
  const same = 1e-9
  let best = first
  let most = -1
  for (const [id, part] of parts)
    if (part > most + same || (part > most - same && id > best)) {
      best = id
      most = part
    }
  return best
}

function halfGrating(
  map: MaterialMap,
  channel: GratingChannel,
  columns: Spans,
  rows: Spans,
  boxes: readonly Box[],
) {
  const kappa = new PlaneReader(map.planes.get(channel.kappa), map.width)
  const { data: spread } = new PlaneReader(map.planes.get(channel.spread), map.width)
  const { data: relief } = new PlaneReader(map.planes.get(channel.relief), map.width)
  const tiles = new GratingTiles(columns.size, rows.size)
  const mean = new GratingMean()
  const out = emptyMoment()
  for (const { left, top, right, bottom } of boxes) {
    if (!anyUnder(map, channel, columns, rows, left, right, top, bottom)) continue
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) {
        mean.clear()
        for (let j = 0; j < rows.count[y]!; j++)
          for (let i = 0; i < columns.count[x]!; i++) {
            // A channel's planes are laid out alike, with two, two and four components.
            const at = kappa.at(columns.start[x]! + i, rows.start[y]! + j)
            if (at < 0) continue
            const share = relief[2 * at + 1]!
            if (share === 0) continue
            const area = rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
            const along = spread[at]! / spreadScale
            const across = spread[at + 1]! / spreadScale
            mean.add(
              kappa.data[at]! / kappaScale,
              kappa.data[at + 1]! / kappaScale,
              along * along,
              across * across,
              (share / 255) * area,
              relief[2 * at]!,
              relief[2 * at + 2]!,
            )
          }
        if (mean.mean(out).weight > 0) tiles.set(x, y, out)
      }
  }
  return tiles.finish(channel)
}

/** Whether a fine tile with data lies under the coarse pixels left..right, top..bottom. */
function anyUnder(
  map: MaterialMap,
  channel: GratingChannel,
  columns: Spans,
  rows: Spans,
  left: number,
  right: number,
  top: number,
  bottom: number,
): boolean {
  const reader = new PlaneReader(map.planes.get(channel.kappa), map.width)
  const endX = columns.start[right - 1]! + columns.count[right - 1]! - 1
  const endY = rows.start[bottom - 1]! + rows.count[bottom - 1]! - 1
  for (let y = rows.start[top]!; ; y = Math.min(endY, y + tileSide)) {
    for (let x = columns.start[left]!; ; x = Math.min(endX, x + tileSide)) {
      if (reader.at(x, y) >= 0) return true
      if (x === endX) break
    }
    if (y === endY) return false
  }
}
