import { compositeStrips, type Surface } from '../../art/composite.ts'
import type { Art, ArtFile, Box, Layer } from '../../art/layer.ts'
import { fillCoverage } from '../../art/raster-fill.ts'
import type { Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { channelAmount } from '../../roles/amount.ts'
import { knockingLayers } from '../../roles/knocking.ts'
import { ancestorsOf } from '../../roles/members.ts'
import { lightnessOf, type Rgb, rgbReader } from '../../roles/tone.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { InkTile } from './tile.ts'

/** Bars are judged at no fewer pixels an inch than this. */
const leastPpi = 1200
/** A code as large as a carton gets a coarser tile rather than all memory. */
const mostPixels = 24_000_000

type Source = Pick<CheckInput, 'file' | 'assigned' | 'map'>

/**
 * Inks of a box of the panel, at {@link leastPpi} or finer: a drawn page is drawn anew, outlines of layers too, pixels are
 * as the art has them.
 */
export async function artTile({ file, assigned, map }: Source, box: BoxMm, task?: Task): Promise<InkTile> {
  if (file === null) return mapTile(map, box)
  const { art } = file
  const perMm = art.width / map.widthMm
  const region = regionOf(file, map, box)
  const [columns, rows] = [region.right - region.left, region.bottom - region.top]
  const wanted = Math.ceil(leastPpi / 25.4 / perMm - 1e-6)
  const k = Math.max(1, Math.min(wanted, Math.floor(Math.sqrt(mostPixels / (columns * rows)))))
  const part = {
    left: region.left * k,
    top: region.top * k,
    right: region.right * k,
    bottom: region.bottom * k,
  }
  const finer = k > 1 ? file.finer?.(k, part) : undefined
  if (finer !== undefined) {
    const tile = await artTile({ file: finer, assigned, map }, box, task)
    // An image on the page is no finer for it.
    return tile.from === 'outlines' ? tile : { ...tile, ppi: perMm * 25.4 }
  }
  const layers = overprints(file, assigned)
  const outlines = topOutlines(art, layers, region)
  const pixels = layers.filter(layer => !outlines.includes(layer))
  const isOutlined = outlines.length > 0 || isDrawn(art, layers, region)
  const tile: InkTile = {
    width: columns * k,
    height: rows * k,
    pixelsPerMm: perMm * k,
    leftMm: region.left / perMm,
    topMm: map.heightMm - (region.top * map.heightMm) / art.height,
    inks: new Uint8Array(4 * columns * k * rows * k),
    spots: map.spots.length === 0 ? null : await spotsOf(file, map, region, k),
    from: isOutlined ? 'outlines' : 'pixels',
    ppi: isOutlined ? perMm * k * 25.4 : perMm * 25.4,
  }
  const fills = ['CMYK', 'Grayscale', 'Bitmap', 'Duotone'].includes(art.colorMode)
    ? plainFill(file)
    : alikeFill(file, map, tile)
  const chosen = new Set(pixels.map(layer => layer.id))
  for await (const surface of compositeStrips(
    file,
    { include: layer => chosen.has(layer.id), region, knocking: new Set(knockingLayers(art, assigned)) },
    task?.signal ? { signal: task.signal } : undefined,
  ))
    fills.add(surface, region, k, tile)
  fills.end(tile)
  for (const layer of outlines) drawOutline(layer, art, region, k, tile)
  return tile
}

/** The map's own inks where there is no art. */
export function mapTile(map: MaterialMap, box: BoxMm): InkTile {
  const perMm = map.width / map.widthMm
  const left = Math.max(0, Math.floor(box.leftMm * perMm))
  const right = Math.min(map.width, Math.ceil(box.rightMm * perMm))
  const top = Math.max(0, Math.floor((map.heightMm - box.topMm) * perMm))
  const bottom = Math.min(map.height, Math.ceil((map.heightMm - box.bottomMm) * perMm))
  const [width, height] = [Math.max(1, right - left), Math.max(1, bottom - top)]
  const inks = new Uint8Array(4 * width * height)
  const readers = ['C', 'M', 'Y', 'K'].map(name => new PlaneReader(map.planes.get(name), map.width))
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      readers.forEach((reader, c) => {
        const at = reader.at(left + x, top + y)
        inks[4 * (y * width + x) + c] = at < 0 ? 0 : reader.data[at]!
      })
  return {
    width,
    height,
    pixelsPerMm: perMm,
    leftMm: left / perMm,
    topMm: map.heightMm - top / perMm,
    inks,
    spots: null,
    from: 'map',
    ppi: perMm * 25.4,
  }
}

/** Layers that print in process inks, bottom to top. */
export function overprints({ art }: ArtFile, assigned: CheckInput['assigned']): readonly Layer[] {
  const printed = new Set(
    assigned.flatMap(({ role, target }) =>
      role === 'overprint' && target.kind === 'layer' ? [target.id] : [],
    ),
  )
  return art.layers.filter(layer => layer.kind !== 'group' && printed.has(layer.id))
}

function regionOf({ art }: ArtFile, { widthMm, heightMm }: MaterialMap, box: BoxMm): Box {
  const clip = (v: number, most: number) => Math.min(most, Math.max(0, v))
  const left = clip(Math.floor((box.leftMm / widthMm) * art.width), art.width - 1)
  const top = clip(Math.floor((1 - box.topMm / heightMm) * art.height), art.height - 1)
  return {
    left,
    top,
    right: Math.max(left + 1, clip(Math.ceil((box.rightMm / widthMm) * art.width), art.width)),
    bottom: Math.max(top + 1, clip(Math.ceil((1 - box.bottomMm / heightMm) * art.height), art.height)),
  }
}

/** Plain filled shapes that nothing else of the print lies on: these are drawn anew as finely as is wanted. */
function topOutlines(art: Art, layers: readonly Layer[], region: Box): readonly Layer[] {
  const found: Layer[] = []
  for (const layer of [...layers].reverse()) {
    const { box } = layer
    const groups = ancestorsOf(art, layer)
    const apart =
      ![layer, ...groups].every(({ visible }) => visible) || (layer.fill === null && isBeside(box, region))
    if (apart) continue
    if (!isPlainShape(layer) || !groups.every(isPlainGroup)) break
    found.unshift(layer)
  }
  return found
}

/** Whether what lies on top is drawn by shapes alone. */
function isDrawn(art: Art, layers: readonly Layer[], region: Box): boolean {
  const over = layers.filter(
    layer =>
      [layer, ...ancestorsOf(art, layer)].every(({ visible }) => visible) && !isBeside(layer.box, region),
  )
  return over.at(-1)?.outlines !== undefined
}

const isBeside = (box: Box, region: Box): boolean =>
  box.right <= region.left || box.left >= region.right || box.bottom <= region.top || box.top >= region.bottom

function isPlainShape(layer: Layer): boolean {
  const { vectorMask, fill, mask, blendMode, clipped, opacity, fillOpacity, effects } = layer
  return (
    vectorMask !== null &&
    !vectorMask.disabled &&
    !vectorMask.inverted &&
    vectorMask.density === 1 &&
    vectorMask.feather === 0 &&
    fill?.space === 'CMYK' &&
    mask === null &&
    blendMode === 'normal' &&
    !clipped &&
    opacity === 1 &&
    fillOpacity === 1 &&
    effects.length === 0
  )
}

/** Whether what is in a group is painted as if there were none. */
function isPlainGroup({
  vectorMask,
  mask,
  blendMode,
  clipped,
  opacity,
  fillOpacity,
  effects,
}: Layer): boolean {
  return (
    vectorMask === null &&
    mask === null &&
    (blendMode === 'passThrough' || blendMode === 'normal') &&
    !clipped &&
    opacity === 1 &&
    fillOpacity === 1 &&
    effects.length === 0
  )
}

function drawOutline(
  { vectorMask, fill }: Layer,
  { resolutionPpi, height }: ArtFile['art'],
  region: Box,
  k: number,
  { inks }: InkTile,
): void {
  const box: Box = {
    left: region.left * k,
    top: region.top * k,
    right: region.right * k,
    bottom: region.bottom * k,
  }
  const { paths, startsFull } = vectorMask!
  const cover = fillCoverage({ paths, startsFull }, box, (resolutionPpi ?? 72) * k, height * k)
  for (let i = 0; i < cover.length; i++) {
    const part = cover[i]!
    if (part === 0) continue
    for (let c = 0; c < 4; c++)
      inks[4 * i + c] = Math.round((1 - part) * inks[4 * i + c]! + part * 255 * fill!.values[c]!)
  }
}

interface TileFill {
  add(surface: Surface, region: Box, k: number, tile: InkTile): void
  end(tile: InkTile): void
}

/** Art in inks: its own numbers. Grey prints in black. */
function plainFill({ art }: ArtFile): TileFill {
  const own = art.colorMode === 'CMYK'
  return {
    add: (surface, region, k, tile) => {
      const { planes, alpha } = surface
      eachPixel(surface, region, k, tile, (i, to) => {
        for (let c = 0; c < 4; c++) {
          const plane = own ? planes[c] : c === 3 ? planes[0] : undefined
          tile.inks[4 * to + c] =
            plane === undefined ? 0 : Math.round(255 * Math.min(1, Math.max(0, alpha[i]! * (1 - plane[i]!))))
        }
      })
    },
    end: () => undefined,
  }
}

/**
 * Art in light: its edges, and the inks that the map has where the art is darkest and where it is lightest. Enough for
 * bars, which have two tones.
 */
function alikeFill(file: ArtFile, map: MaterialMap, { width, height }: InkTile): TileFill {
  const rgb = rgbReader(file.art)
  const colour: Rgb = [0, 0, 0]
  const dark = new Uint8Array(width * height)
  return {
    add: (surface, region, k, tile) =>
      eachPixel(surface, region, k, tile, (i, to) => {
        const light = lightnessOf(...rgb(surface, i, colour))
        dark[to] = Math.round(255 * surface.alpha[i]! * (1 - light))
      }),
    end: tile => {
      const least = dark.reduce((a, b) => Math.min(a, b), 255)
      const most = dark.reduce((a, b) => Math.max(a, b), 0)
      const reach = Math.max(1, most - least)
      const bar = meanInks(map, tile, pixel => dark[pixel]! >= most - 0.1 * reach)
      const ground = meanInks(map, tile, pixel => dark[pixel]! <= least + 0.1 * reach)
      for (let i = 0; i < dark.length; i++) {
        const part = (dark[i]! - least) / reach
        for (let c = 0; c < 4; c++)
          tile.inks[4 * i + c] = Math.round(part * bar[c]! + (1 - part) * ground[c]!)
      }
    },
  }
}

/** Mean inks of the map where a tile's pixels are alike all over the map's pixel, 0..255. */
function meanInks(map: MaterialMap, tile: InkTile, alike: (pixel: number) => boolean): Float64Array {
  const readers = ['C', 'M', 'Y', 'K'].map(name => new PlaneReader(map.planes.get(name), map.width))
  const perMm = map.width / map.widthMm
  const sum = new Float64Array(4)
  const half = Math.ceil((0.5 * tile.pixelsPerMm) / perMm)
  let count = 0
  for (let y = half; y + half < tile.height; y += half)
    for (let x = half; x + half < tile.width; x += half) {
      const corners = [-half, half].flatMap(dy => [-half, half].map(dx => (y + dy) * tile.width + x + dx))
      if (!corners.every(alike)) continue
      const column = Math.floor((tile.leftMm + (x + 0.5) / tile.pixelsPerMm) * perMm)
      const row = Math.floor((map.heightMm - tile.topMm + (y + 0.5) / tile.pixelsPerMm) * perMm)
      count++
      readers.forEach((reader, c) => {
        const at = column < map.width && row < map.height ? reader.at(column, row) : -1
        sum[c]! += at < 0 ? 0 : reader.data[at]!
      })
    }
  return sum.map(value => (count === 0 ? 0 : value / count))
}

function eachPixel(
  { box }: Surface,
  region: Box,
  k: number,
  { width }: InkTile,
  visit: (from: number, to: number) => void,
): void {
  let i = 0
  for (let y = box.top; y < box.bottom; y++)
    for (let x = box.left; x < box.right; x++, i++) {
      if (x < region.left || x >= region.right || y < region.top || y >= region.bottom) continue
      for (let dy = 0; dy < k; dy++)
        for (let dx = 0; dx < k; dx++)
          visit(i, ((y - region.top) * k + dy) * width + (x - region.left) * k + dx)
    }
}

/** Spot inks from their channels; null where one of them is layers, which the map has as finely as is needed. */
async function spotsOf(file: ArtFile, map: MaterialMap, region: Box, k: number): Promise<Uint8Array | null> {
  const channels = map.spots.map(({ name }) => file.art.channels.find(channel => channel.name === name))
  if (channels.some(channel => channel === undefined)) return null
  const count = channels.length
  const width = (region.right - region.left) * k
  const out = new Uint8Array(count * width * (region.bottom - region.top) * k)
  for (const [s, channel] of channels.entries()) {
    const { box, data } = await file.documentPlane(channel!.plane, region)
    for (let y = region.top; y < region.bottom; y++)
      for (let x = region.left; x < region.right; x++) {
        const at = (y - box.top) * (box.right - box.left) + x - box.left
        const value = Math.round(255 * channelAmount(channel!.kind, data, at))
        for (let dy = 0; dy < k; dy++)
          for (let dx = 0; dx < k; dx++)
            out[count * (((y - region.top) * k + dy) * width + (x - region.left) * k + dx) + s] = value
      }
  }
  return out
}
