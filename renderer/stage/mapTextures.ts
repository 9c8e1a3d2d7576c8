import { DataArrayTexture, RGBAFormat, type Texture, UnsignedByteType } from 'three'
import type { Dirty } from '../../core/material/edition.ts'
import { type FirstLook, tilesAt } from '../../core/material/first-look.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { tileSide } from '../../core/material/tiles.ts'
import { indexWidth, mostCoats, ready, slotsOf, TilePool, type Upload } from './tilePool.ts'

export { indexWidth, mostCoats } from './tilePool.ts'

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
 * -1 where there is no grating, or -2 where the first look of an edit is seen, at its own level.
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
  /**
   * Takes in levels that came of those before in place; only what differs is uploaded. Says false, and is to be made
   * anew, where they do not fit into the same textures.
   */
  update(pyramid: readonly MaterialMap[], dirty: Dirty, upload: Upload): boolean
  /**
   * Shows the first look of an edit over these levels, until the next update. Says false, and is to be made anew, where it
   * does not fit into the same textures; `lookLevel` is then of no meaning.
   */
  setLook(pyramid: readonly MaterialMap[], look: FirstLook, upload: Upload): boolean
  /** The level in the textures that has a first look; -1: none. */
  readonly lookLevel: number
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
  const tiles = new TilePool(maps, limits.side)
  const textures = [coats.texture, tiles.index, tiles.grating, tiles.relief]
  let lookLevel = -1
  return {
    levels: maps.map((_, i) => ({ coats: coats.places[i]!, tiles: tiles.places[i]! })),
    skipped,
    tile: tileSide,
    indexWidth,
    coats: coats.texture,
    tileIndex: tiles.index,
    grating: tiles.grating,
    relief: tiles.relief,
    viewTable: tiles.viewTable,
    get lookLevel() {
      return lookLevel
    },
    setLook: (now, look, upload) => {
      const level = look.level - skipped
      if (level < 0) return true
      const seen = now.map((_, at) => tilesAt(now, [...look.reached], at)).slice(skipped)
      const before = now[look.level]!
      const shown = now.slice(skipped).with(level, { ...before, planes: look.planes })
      lookLevel = level
      return tiles.setLook(shown, level, seen, before, upload)
    },
    update: (next, dirty, upload) => {
      lookLevel = -1
      return (
        slotsOf(next[0]!) === slotsOf(pyramid[0]!) &&
        coatPlanes(next[0]!).join() === coatPlanes(pyramid[0]!).join() &&
        tiles.update(next.slice(skipped), dirty.slice(skipped), upload)
      )
    },
    dispose: () => {
      for (const texture of textures) texture.dispose()
    },
  }
}

function firstThatFits(pyramid: readonly MaterialMap[], limits: TextureLimits): number {
  const last = pyramid.length - 1
  for (let i = 0; i < last; i++) {
    const map = pyramid[i]!
    const pixels = map.width * map.height * 1.5
    const bytes = pixels * (4 * coatLayers(map) + 12 * slotsOf(map))
    const longest = Math.max(map.width * 1.5, map.height * 1.5) + tileSide
    const poolFits = pixels * slotsOf(map) <= limits.side * limits.side
    if (longest <= limits.side && poolFits && bytes <= limits.bytes) return i
  }
  return last
}

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
