import {
  DataArrayTexture,
  DataTexture,
  IntType,
  NearestFilter,
  RedIntegerFormat,
  RGBAFormat,
  RGBAIntegerFormat,
  type Texture,
  UnsignedByteType,
  UnsignedShortType,
} from 'three'
import type { MaterialMap } from '../../core/material/map.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { tileSide } from '../../core/material/tiles.ts'
import { viewSetPlane, viewsPlane } from '../../core/material/views.ts'
import { viewTable } from './viewTable.ts'

/** How many of each a picture can show at once: the samplers' layout, not a limit of the map. */
export const mostCoats = 4

/** Names of plates and gratings beyond what the textures hold; the reference picture has them all. */
export function omittedFrom(map: MaterialMap): string[] {
  return [map.gratings, map.whites, map.spots].flatMap(list => list.slice(mostCoats).map(coat => coat.name))
}

/** Where a level of the map lies in the textures. */
export interface LevelPlace {
  /** Left and top of the level in the coat atlas, and its size; texels. */
  readonly coats: readonly [x: number, y: number, width: number, height: number]
  /** First entry of the level in the tile index, tiles in a row, entries of one grating channel. */
  readonly tiles: readonly [first: number, perRow: number, perChannel: number]
}

/**
 * A map and its coarser levels as textures. Nothing is filtered: the shader fetches texels.
 * `coats`: RGBA layers CMYK; metal, varnish, mottle; white coverages; spot coverages (the last two only where there are any).
 * `tileIndex` → block of `grating` (κx, κy, spread along, across; 16 bits) and `relief`, its column and 2¹⁶ times its row,
 * or -1 where there is no grating.
 * Views have one or two blocks after those of the gratings: eight views of a byte each in `grating`, two in a number, the
 * number of their set in `relief`. What holds for a whole set follows the index, floats bit by bit: `viewTable.ts`.
 */
export interface MapTextures {
  readonly levels: readonly LevelPlace[]
  /** Levels left out at the fine end because the graphics card could not hold them. */
  readonly skipped: number
  readonly tile: number
  readonly indexWidth: number
  readonly coats: Texture
  readonly tileIndex: Texture
  readonly grating: Texture
  readonly relief: Texture
  /** First entry of the table of view sets in the tile index. */
  readonly viewTable: number
  dispose(): void
}

export interface TextureLimits {
  /** Largest side of a texture, texels. */
  readonly side: number
  /** Memory the textures may take, bytes. */
  readonly bytes: number
}

/** @param pyramid the map, then each level half the size of the one before */
export function mapTextures(pyramid: readonly MaterialMap[], limits: TextureLimits): MapTextures {
  const skipped = firstThatFits(pyramid, limits)
  const maps = pyramid.slice(skipped)
  const coats = coatAtlas(maps)
  const tiles = tilePool(maps, limits.side)
  const textures = [coats.texture, tiles.index, tiles.grating, tiles.relief]
  return {
    levels: maps.map((_, i) => ({ coats: coats.places[i]!, tiles: tiles.places[i]! })),
    skipped,
    tile,
    indexWidth,
    coats: coats.texture,
    tileIndex: tiles.index,
    grating: tiles.grating,
    relief: tiles.relief,
    viewTable: tiles.viewTable,
    dispose: () => {
      for (const texture of textures) texture.dispose()
    },
  }
}

const tile = tileSide
/** Texels in a row of the tile index. */
export const indexWidth = 1024

function firstThatFits(pyramid: readonly MaterialMap[], limits: TextureLimits): number {
  const last = pyramid.length - 1
  for (let i = 0; i < last; i++) {
    const map = pyramid[i]!
    const pixels = map.width * map.height * 1.5
    const bytes = pixels * (4 * coatLayers(map) + 12 * slotsOf(map))
    const longest = Math.max(map.width * 1.5, map.height * 1.5) + tile
    const poolFits = pixels * slotsOf(map) <= limits.side * limits.side
    if (longest <= limits.side && poolFits && bytes <= limits.bytes) return i
  }
  return last
}

/** Blocks that a tile can have. */
const slotsOf = (map: MaterialMap) => Math.min(mostCoats, map.gratings.length) + viewSlots(map)

const viewSlots = (map: MaterialMap) =>
  Math.ceil(Math.max(0, ...(map.viewSets ?? []).map(set => set.channels.length)) / viewsPerBlock)

const viewsPerBlock = 8

const coatLayers = (map: MaterialMap) =>
  2 + (map.whites.length > 0 || map.spots.length > 0 ? 1 : 0) + (map.spots.length > 0 ? 1 : 0)

/** All levels side by side: the finest at the left, the others stacked on its right. */
function coatAtlas(maps: readonly MaterialMap[]) {
  const base = maps[0]!
  const places: LevelPlace['coats'][] = []
  let down = 0
  for (const map of maps) {
    const first = places.length === 0
    places.push([first ? 0 : base.width, first ? 0 : down, map.width, map.height])
    if (!first) down += map.height
  }
  const width = base.width + (maps[1]?.width ?? 0)
  const height = Math.max(base.height, down)
  const layers = coatLayers(base)
  const data = new Uint8Array(width * height * layers * 4)
  maps.forEach((map, i) => {
    coatPlanes(map).forEach((name, at) => {
      if (name === null) return
      const plane = new PlaneReader(map.planes.get(name), map.width)
      const [x0, y0] = places[i]!
      const layer = at >> 2
      for (let y = 0; y < map.height; y++) {
        let to = ((layer * height + y0 + y) * width + x0) * 4 + (at & 3)
        for (let x = 0; x < map.width; x++, to += 4) {
          const from = plane.at(x, y)
          if (from >= 0) data[to] = plane.data[from]!
        }
      }
    })
  })
  const texture = new DataArrayTexture(data, width, height, layers)
  texture.format = RGBAFormat
  texture.type = UnsignedByteType
  return { texture: ready(texture), places }
}

/** Names of the planes in the order of the atlas' components. */
function coatPlanes(map: MaterialMap): (string | null)[] {
  const four = (names: readonly string[]) => Array.from({ length: mostCoats }, (_, i) => names[i] ?? null)
  return [
    ...['C', 'M', 'Y', 'K'],
    ...['metal', map.varnish, 'mottle', null],
    ...four(map.whites.map(w => w.coverage)),
    ...four(map.spots.map(s => s.coverage)),
  ].slice(0, coatLayers(map) * 4)
}

/** Blocks of all levels and channels in one pool; a block exists only where a grating vector is not zero. */
function tilePool(maps: readonly MaterialMap[], side: number) {
  const places: LevelPlace['tiles'][] = []
  const blocks: Block[] = []
  const index: number[] = []
  for (const map of maps) {
    const perRow = Math.ceil(map.width / tile)
    const rows = Math.ceil(map.height / tile)
    places.push([index.length, perRow, perRow * rows])
    map.gratings.slice(0, mostCoats).forEach((grating, channel) => {
      const kappa = new PlaneReader(map.planes.get(grating.kappa), map.width)
      for (let ty = 0; ty < rows; ty++)
        for (let tx = 0; tx < perRow; tx++) {
          const block: Block = { map, channel, views: -1, x: tx * tile, y: ty * tile }
          index.push(isEmpty(kappa, block) ? -1 : blocks.push(block) - 1)
        }
    })
    const sets = new PlaneReader(map.planes.get(viewSetPlane), map.width)
    for (let views = 0; views < viewSlots(map); views++)
      for (let ty = 0; ty < rows; ty++)
        for (let tx = 0; tx < perRow; tx++) {
          const block: Block = { map, channel: -1, views, x: tx * tile, y: ty * tile }
          index.push(sets.at(block.x, block.y) < 0 ? -1 : blocks.push(block) - 1)
        }
  }
  const blocksPerRow = Math.max(1, Math.min(blocks.length, Math.floor(side / tile)))
  const width = blocksPerRow * tile
  const height = Math.max(1, Math.ceil(blocks.length / blocksPerRow)) * tile
  const grating = new Uint16Array(width * height * 4)
  const relief = new Uint8Array(width * height * 4)
  blocks.forEach((block, i) => {
    const copyInto = block.views < 0 ? copyBlock : copyViews
    copyInto(block, grating, relief, width, (i % blocksPerRow) * tile, Math.floor(i / blocksPerRow) * tile)
  })
  index.forEach((block, i) => {
    if (block >= 0) index[i] = (block % blocksPerRow) + (Math.floor(block / blocksPerRow) << 16)
  })
  const firstOfTable = index.length
  for (const number of viewTable(maps[0]?.viewSets ?? [])) index.push(number)
  const indexRows = Math.max(1, Math.ceil(index.length / indexWidth))
  const indexData = new Int32Array(indexWidth * indexRows).fill(-1)
  indexData.set(index)
  const indexTexture = new DataTexture(indexData, indexWidth, indexRows, RedIntegerFormat, IntType)
  indexTexture.internalFormat = 'R32I'
  const gratingTexture = new DataTexture(grating, width, height, RGBAIntegerFormat, UnsignedShortType)
  gratingTexture.internalFormat = 'RGBA16UI'
  const reliefTexture = new DataTexture(relief, width, height, RGBAIntegerFormat, UnsignedByteType)
  reliefTexture.internalFormat = 'RGBA8UI'
  return {
    places,
    viewTable: firstOfTable,
    index: ready(indexTexture),
    grating: ready(gratingTexture),
    relief: ready(reliefTexture),
  }
}

interface Block {
  readonly map: MaterialMap
  /** Grating channel, or -1 for views. */
  readonly channel: number
  /** Which eight views, or -1. */
  readonly views: number
  readonly x: number
  readonly y: number
}

function isEmpty(kappa: PlaneReader, { map, x, y }: Block): boolean {
  const right = Math.min(x + tile, map.width)
  const bottom = Math.min(y + tile, map.height)
  for (let py = y; py < bottom; py++)
    for (let px = x; px < right; px++) {
      const at = kappa.at(px, py)
      if (at >= 0 && (kappa.data[at] !== 0 || kappa.data[at + 1] !== 0)) return false
    }
  return true
}

/** Signed κ goes into unsigned texels bit by bit; the shader turns it back. */
function copyBlock(
  { map, channel, x, y }: Block,
  grating: Uint16Array,
  relief: Uint8Array,
  width: number,
  toX: number,
  toY: number,
): void {
  const names = map.gratings[channel]!
  const [kappa, spread, depth] = [names.kappa, names.spread, names.relief].map(
    name => new PlaneReader(map.planes.get(name), map.width),
  ) as [PlaneReader, PlaneReader, PlaneReader]
  const right = Math.min(x + tile, map.width)
  const bottom = Math.min(y + tile, map.height)
  for (let py = y; py < bottom; py++)
    for (let px = x; px < right; px++) {
      const to = ((toY + py - y) * width + toX + px - x) * 4
      copy(kappa, kappa.at(px, py), grating, to, 2)
      copy(spread, spread.at(px, py), grating, to + 2, 2)
      copy(depth, depth.at(px, py), relief, to, 4)
    }
}

function copyViews(
  { map, views: part, x, y }: Block,
  grating: Uint16Array,
  relief: Uint8Array,
  width: number,
  toX: number,
  toY: number,
): void {
  const sets = new PlaneReader(map.planes.get(viewSetPlane), map.width)
  const views = new PlaneReader(map.planes.get(viewsPlane), map.width)
  const right = Math.min(x + tile, map.width)
  const bottom = Math.min(y + tile, map.height)
  for (let py = y; py < bottom; py++)
    for (let px = x; px < right; px++) {
      const to = ((toY + py - y) * width + toX + px - x) * 4
      copy(sets, sets.at(px, py), relief, to, 1)
      const from = views.at(px, py) + viewsPerBlock * part
      const count = Math.min(viewsPerBlock, views.components - viewsPerBlock * part)
      for (let i = 0; i < count; i++) grating[to + (i >> 1)]! |= views.data[from + i]! << (8 * (i & 1))
    }
}

function copy(plane: PlaneReader, from: number, into: Uint8Array | Uint16Array, to: number, n: number): void {
  if (from < 0) return
  for (let i = 0; i < n; i++) into[to + i] = plane.data[from + i]!
}

function ready<T extends Texture>(texture: T): T {
  texture.minFilter = NearestFilter
  texture.magFilter = NearestFilter
  texture.generateMipmaps = false
  texture.unpackAlignment = 1
  texture.needsUpdate = true
  return texture
}
