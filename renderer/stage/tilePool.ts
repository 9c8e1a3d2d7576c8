import {
  DataTexture,
  IntType,
  NearestFilter,
  RedIntegerFormat,
  RGBAIntegerFormat,
  type Texture,
  UnsignedByteType,
  UnsignedShortType,
} from 'three'
import type { Box } from '../../core/art/layer.ts'
import type { Dirty } from '../../core/material/edition.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { tileSide } from '../../core/material/tiles.ts'
import { viewSetPlane, viewsPlane } from '../../core/material/views.ts'
import { viewTable } from './viewTable.ts'

/** How many of each a picture can show at once: the samplers' layout, not a limit of the map. */
export const mostCoats = 4

/** Texels in a row of the tile index. */
export const indexWidth = 1024

/** In the tile index: the first look of an edit is seen there. */
export const seeLook = -2

/** Sends rectangles of a texture's own data to the card. */
export type Upload = (texture: DataTexture, boxes: readonly Box[]) => void

/** Blocks that a tile can have. */
export const slotsOf = (map: MaterialMap) => Math.min(mostCoats, map.gratings.length) + viewSlots(map)

const viewSlots = (map: MaterialMap) =>
  Math.ceil(Math.max(0, ...(map.viewSets ?? []).map(set => set.channels.length)) / viewsPerBlock)

const viewsPerBlock = 8

/**
 * Blocks of all levels and channels in one pool; a block exists only where a grating vector is not zero. Some are
 * spare, for areas that grow.
 */
export class TilePool {
  /** First entry of each level in the tile index, tiles in a row, entries of one slot. */
  readonly places: readonly (readonly [first: number, perRow: number, perChannel: number])[]
  readonly blocksPerRow: number
  readonly viewTable: number
  readonly index: DataTexture
  readonly grating: DataTexture
  readonly relief: DataTexture
  /** Packed numbers of the blocks; the texture has the same, but where a first look is seen instead. */
  readonly #index: Int32Array
  readonly #shown: Int32Array
  readonly #grating: Uint16Array
  readonly #relief: Uint8Array
  readonly #width: number
  readonly #free: number[] = []
  readonly #tableLength: number
  /** The level that has a first look, its tiles, and entries of other levels where it is seen. */
  #look: {
    readonly level: number
    readonly tiles: readonly number[]
    readonly veil: readonly number[]
  } | null = null

  constructor(maps: readonly MaterialMap[], side: number) {
    const places: [number, number, number][] = []
    const blocks: Block[] = []
    const index: number[] = []
    for (const map of maps) {
      const perRow = Math.ceil(map.width / tileSide)
      const perChannel = perRow * Math.ceil(map.height / tileSide)
      places.push([index.length, perRow, perChannel])
      for (let slot = 0; slot < slotsOf(map); slot++)
        for (let tile = 0; tile < perChannel; tile++) {
          const block = blockOf(map, slot, tile, perRow)
          index.push(isEmpty(block) ? -1 : blocks.push(block) - 1)
        }
    }
    this.places = places
    const spare = Math.max(8, Math.ceil(blocks.length / 8))
    this.blocksPerRow = Math.max(1, Math.min(blocks.length + spare, Math.floor(side / tileSide)))
    const rows = Math.max(1, Math.ceil(blocks.length / this.blocksPerRow))
    const withSpare = Math.ceil((blocks.length + spare) / this.blocksPerRow)
    const height = Math.max(rows, Math.min(withSpare, Math.floor(side / tileSide))) * tileSide
    this.#width = this.blocksPerRow * tileSide
    this.#grating = new Uint16Array(this.#width * height * 4)
    this.#relief = new Uint8Array(this.#width * height * 4)
    blocks.forEach((block, i) => {
      this.#copy(block, i)
    })
    for (let i = (height / tileSide) * this.blocksPerRow - 1; i >= blocks.length; i--) this.#free.push(i)
    this.viewTable = index.length
    const table = viewTable(maps[0]?.viewSets ?? [])
    this.#tableLength = table.length
    for (const number of table) index.push(number)
    const indexRows = Math.max(1, Math.ceil(index.length / indexWidth))
    this.#index = new Int32Array(indexWidth * indexRows).fill(-1)
    index.forEach((number, entry) => {
      this.#index[entry] = entry < this.viewTable ? this.#packed(number) : number
    })
    this.#shown = this.#index.slice()
    this.index = new DataTexture(this.#shown, indexWidth, indexRows, RedIntegerFormat, IntType)
    this.index.internalFormat = 'R32I'
    this.grating = new DataTexture(this.#grating, this.#width, height, RGBAIntegerFormat, UnsignedShortType)
    this.grating.internalFormat = 'RGBA16UI'
    this.relief = new DataTexture(this.#relief, this.#width, height, RGBAIntegerFormat, UnsignedByteType)
    this.relief.internalFormat = 'RGBA8UI'
    for (const texture of [this.index, this.grating, this.relief]) ready(texture)
  }

  /** See `MapTextures.update`. */
  update(maps: readonly MaterialMap[], dirty: Dirty, upload: Upload): boolean {
    const table = [...viewTable(maps[0]?.viewSets ?? [])]
    if (table.length !== this.#tableLength) return false
    this.#index.set(table, this.viewTable)
    const written = emptyWritten()
    const look = this.#look
    for (const [level, map] of maps.entries()) {
      const differ = dirty[level]
      // What a first look was painted over comes back.
      const looked = look?.level === level ? look.tiles : []
      for (let slot = 0; slot < slotsOf(map); slot++) {
        const { vectors, heights } = planesOf(map, slot)
        const tilesOf = (names: readonly string[]) =>
          new Set([...looked, ...names.flatMap(name => differ?.get(name) ?? [])])
        const ofGrating = tilesOf(vectors)
        const ofRelief = tilesOf(heights)
        for (const tile of new Set([...ofGrating, ...ofRelief]))
          if (!this.#put(map, level, slot, tile, ofGrating.has(tile), ofRelief.has(tile), written))
            return false
      }
    }
    this.#look = null
    this.#send(written, upload)
    return true
  }

  /**
   * Paints a first look over a level, and points to it from the others.
   * @param maps  as they are shown, that of the first look's level with its planes instead
   * @param level of these
   * @param tiles by level, where it is seen
   * @param before the level as it is without it
   */
  setLook(
    maps: readonly MaterialMap[],
    level: number,
    tiles: readonly (readonly number[])[],
    before: MaterialMap,
    upload: Upload,
  ): boolean {
    const map = maps[level]!
    const own = new Set(tiles[level])
    const written = emptyWritten()
    const put = (from: MaterialMap, at: number, some: Iterable<number>): boolean => {
      for (let slot = 0; slot < slotsOf(from); slot++)
        for (const tile of some) if (!this.#put(from, at, slot, tile, true, true, written)) return false
      return true
    }
    const old = this.#look
    if (old !== null) {
      const same = old.level === level
      const left = same ? old.tiles.filter(tile => !own.has(tile)) : old.tiles
      if (!put(same ? before : maps[old.level]!, old.level, left)) return false
    }
    if (!put(map, level, own)) return false
    const veil = maps.flatMap((one, at) => {
      if (at === level) return []
      const [first, , perChannel] = this.places[at]!
      const slots = Array.from({ length: slotsOf(one) }, (_, slot) => first + slot * perChannel)
      return slots.flatMap(entry => tiles[at]!.map(tile => entry + tile))
    })
    this.#look = { level, tiles: [...own], veil }
    this.#send(written, upload)
    return true
  }

  /** Writes a tile of a level in one slot, or takes it away; false where there is no room. */
  #put(
    map: MaterialMap,
    level: number,
    slot: number,
    tile: number,
    ofGrating: boolean,
    ofRelief: boolean,
    written: Written,
  ): boolean {
    const [first, perRow, perChannel] = this.places[level]!
    const entry = first + slot * perChannel + tile
    const block = blockOf(map, slot, tile, perRow)
    const there = this.#numberAt(entry)
    if (isEmpty(block)) {
      if (there < 0) return true
      this.#free.push(there)
      this.#index[entry] = -1
      return true
    }
    const number = there < 0 ? this.#free.pop() : there
    if (number === undefined) return false
    this.#index[entry] = this.#packed(number)
    this.#copy(block, number)
    if (there < 0 || ofGrating) written.grating.add(number)
    if (there < 0 || ofRelief) written.relief.add(number)
    return true
  }

  #send({ grating, relief }: Written, upload: Upload): void {
    const shown = this.#index.slice()
    for (const entry of this.#look?.veil ?? []) shown[entry] = seeLook
    if (shown.some((number, i) => this.#shown[i] !== number)) {
      this.#shown.set(shown)
      this.index.needsUpdate = true
    }
    upload(this.grating, this.#boxes(grating))
    upload(this.relief, this.#boxes(relief))
  }

  /** How the index names a block: its column and 2¹⁶ times its row. */
  #packed(number: number): number {
    return number < 0 ? -1 : (number % this.blocksPerRow) + (Math.floor(number / this.blocksPerRow) << 16)
  }

  #numberAt(entry: number): number {
    const packed = this.#index[entry]!
    return packed < 0 ? -1 : (packed >> 16) * this.blocksPerRow + (packed & 0xffff)
  }

  #copy(block: Block, number: number): void {
    const left = (number % this.blocksPerRow) * tileSide
    const top = Math.floor(number / this.blocksPerRow) * tileSide
    for (let y = top; y < top + tileSide; y++) {
      const from = 4 * (y * this.#width + left)
      this.#grating.fill(0, from, from + 4 * tileSide)
      this.#relief.fill(0, from, from + 4 * tileSide)
    }
    const copyInto = block.views < 0 ? copyBlock : copyViews
    copyInto(block, this.#grating, this.#relief, this.#width, left, top)
  }

  /** Rectangles of blocks, neighbours in a row together, and whole rows with those under them. */
  #boxes(numbers: ReadonlySet<number>): readonly Box[] {
    const boxes: { left: number; top: number; right: number; bottom: number }[] = []
    for (const number of [...numbers].sort((a, b) => a - b)) {
      const left = (number % this.blocksPerRow) * tileSide
      const top = Math.floor(number / this.blocksPerRow) * tileSide
      const last = boxes.at(-1)
      if (last && last.right === left && last.top === top) last.right += tileSide
      else boxes.push({ left, top, right: left + tileSide, bottom: top + tileSide })
      const [above, row] = boxes.slice(-2)
      const whole = (box: Box) => box.left === 0 && box.right === this.#width
      if (above && row && whole(above) && whole(row) && above.bottom === row.top) {
        above.bottom = row.bottom
        boxes.pop()
      }
    }
    return boxes
  }
}

/** Numbers of blocks that are to be sent. */
interface Written {
  readonly grating: Set<number>
  readonly relief: Set<number>
}

const emptyWritten = (): Written => ({ grating: new Set(), relief: new Set() })

/** The planes of a slot: those in the texture of grating vectors or views, and those beside it. */
function planesOf(
  map: MaterialMap,
  slot: number,
): { readonly vectors: readonly string[]; readonly heights: readonly string[] } {
  const channel = map.gratings.slice(0, mostCoats)[slot]
  if (channel) return { vectors: [channel.kappa, channel.spread], heights: [channel.relief] }
  return { vectors: [viewsPlane, viewSetPlane], heights: [viewSetPlane] }
}

function blockOf(map: MaterialMap, slot: number, tile: number, perRow: number): Block {
  const channels = Math.min(mostCoats, map.gratings.length)
  return {
    map,
    channel: slot < channels ? slot : -1,
    views: slot < channels ? -1 : slot - channels,
    x: (tile % perRow) * tileSide,
    y: Math.floor(tile / perRow) * tileSide,
  }
}

/** A tile of a level in one slot. */
interface Block {
  readonly map: MaterialMap
  /** Grating channel, or -1 for views. */
  readonly channel: number
  /** Which eight views, or -1. */
  readonly views: number
  readonly x: number
  readonly y: number
}

function isEmpty({ map, channel, x, y }: Block): boolean {
  if (channel < 0) return new PlaneReader(map.planes.get(viewSetPlane), map.width).at(x, y) < 0
  const kappa = new PlaneReader(map.planes.get(map.gratings[channel]!.kappa), map.width)
  const right = Math.min(x + tileSide, map.width)
  const bottom = Math.min(y + tileSide, map.height)
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
  const right = Math.min(x + tileSide, map.width)
  const bottom = Math.min(y + tileSide, map.height)
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
  const right = Math.min(x + tileSide, map.width)
  const bottom = Math.min(y + tileSide, map.height)
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

/** A texture of which nothing is filtered, ready for the card. */
export function ready<T extends Texture>(texture: T): T {
  texture.minFilter = NearestFilter
  texture.magFilter = NearestFilter
  texture.generateMipmaps = false
  texture.unpackAlignment = 1
  texture.needsUpdate = true
  return texture
}
