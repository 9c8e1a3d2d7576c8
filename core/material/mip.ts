import { type GratingChannel, kappaScale, type MapPlane, type MaterialMap, spreadScale } from './map.ts'
import { emptyMoment, GratingMean, type GratingMoment } from './moments.ts'
import { PlaneReader } from './plane.ts'
import { type Spans, spans } from './spans.ts'
import { evenly, GratingTiles, tileSide } from './tiles.ts'
import { halfViews } from './view-tiles.ts'
import { viewSetPlane, viewsPlane } from './views.ts'

/**
 * The map at half the resolution: each side ⌊n/2⌋, at least 1, every coarse pixel the mean of the fine ones under it
 * (with odd sides, of parts of them), so that mean coverage and structure tensor stay what they were. Rounding
 * leaves no drift from level to level (`evenly`). Area ids take the largest part.
 */
export function minify(map: MaterialMap): MaterialMap {
  const width = Math.max(1, Math.floor(map.width / 2))
  const height = Math.max(1, Math.floor(map.height / 2))
  const columns = spans(map.width, width)
  const rows = spans(map.height, height)
  const planes = new Map<string, MapPlane>()
  const ofGratings = new Set([
    ...map.gratings.flatMap(({ kappa, spread, relief }) => [kappa, spread, relief]),
    viewSetPlane,
    viewsPlane,
  ])
  for (const [name, plane] of map.planes)
    if (!ofGratings.has(name))
      planes.set(
        name,
        name === 'area' ? halfIds(plane, map.width, columns, rows) : half(plane, map.width, columns, rows),
      )
  for (const [name, plane] of halfViews(map, columns, rows)) planes.set(name, plane)
  for (const channel of map.gratings)
    for (const [name, plane] of halfGrating(map, channel, columns, rows)) planes.set(name, plane)
  return { ...map, width, height, pixelsPerMm: width / map.widthMm, planes }
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

function halfIds(plane: MapPlane, width: number, columns: Spans, rows: Spans): MapPlane {
  const ids = new PlaneReader(plane, width)
  const data = plane.data.slice(0, columns.size * rows.size)
  let to = 0
  for (let y = 0; y < rows.size; y++)
    for (let x = 0; x < columns.size; x++) data[to++] = largestId(ids, columns, rows, x, y)
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

function halfGrating(map: MaterialMap, channel: GratingChannel, columns: Spans, rows: Spans) {
  const read = gratingReader(map, channel)
  const tiles = new GratingTiles(columns.size, rows.size)
  const mean = new GratingMean()
  const part = emptyMoment()
  const out = emptyMoment()
  for (let top = 0; top < rows.size; top += tileSide)
    for (let left = 0; left < columns.size; left += tileSide) {
      const bottom = Math.min(rows.size, top + tileSide)
      const right = Math.min(columns.size, left + tileSide)
      if (!anyUnder(map, channel, columns, rows, left, right, top, bottom)) continue
      for (let y = top; y < bottom; y++)
        for (let x = left; x < right; x++) {
          mean.clear()
          for (let j = 0; j < rows.count[y]!; j++)
            for (let i = 0; i < columns.count[x]!; i++) {
              if (!read(columns.start[x]! + i, rows.start[y]! + j, part)) continue
              const area = rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
              mean.add(part.kx, part.ky, part.along, part.across, part.weight * area, part.depth, part.groove)
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

/** Reads a channel back at any pixel into `out` (weight is the share); false where there is no grating. */
function gratingReader(map: MaterialMap, channel: GratingChannel) {
  const kappa = new PlaneReader(map.planes.get(channel.kappa), map.width)
  const spread = new PlaneReader(map.planes.get(channel.spread), map.width)
  const relief = new PlaneReader(map.planes.get(channel.relief), map.width)
  return (x: number, y: number, out: GratingMoment): boolean => {
    const at = kappa.at(x, y)
    if (at < 0) return false
    const height = relief.at(x, y)
    const share = relief.data[height + 1]!
    if (share === 0) return false
    out.kx = kappa.data[at]! / kappaScale
    out.ky = kappa.data[at + 1]! / kappaScale
    out.along = (spread.data[at]! / spreadScale) ** 2
    out.across = (spread.data[at + 1]! / spreadScale) ** 2
    out.weight = share / 255
    out.depth = relief.data[height]!
    out.groove = relief.data[height + 2]!
    return true
  }
}
