import type { DataArrayTexture, DataTexture } from 'three'
import { describe, expect, test } from 'vitest'
import { type FirstLook, tilesAt } from '../../core/material/first-look.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { TileGrid, tileSide } from '../../core/material/tiles.ts'
import { rectangular } from '../../core/optics/groove.ts'
import { indexWidth, type MapTextures, mapTextures, omittedFrom } from '../../renderer/stage/mapTextures.ts'
import { seeLook } from '../../renderer/stage/tilePool.ts'
import { paintMap } from '../support/paint-map.ts'

const size = 300
const map = paintMap(
  {
    size,
    sideMm: 30,
    gratings: 2,
    whites: [{ opacity: 0.5, hits: 1 }],
    spots: [[50, 0, 0]],
    varnish: true,
  },
  (x, y) => ({
    metal: (x + 1) / 2,
    cmyk: [(y + 1) / 2, 0.25, Math.abs(x), Math.abs(y)],
    whites: [Math.hypot(x, y)],
    spots: [x * x],
    varnish: y * y,
    gratings: x * x + y * y < 0.5 ? [grating(900, 0.3), grating(1400 + 300 * x, 2 - y)] : [],
  }),
)

function grating(pitch: number, azimuth: number) {
  return {
    pitch,
    azimuth,
    grooveDepth: 77,
    groove: rectangular(),
    share: 0.5,
    spreadAlong: 1e-5,
    spreadAcross: 2e-5,
  }
}

/** Reads the textures as the shader does. */
function coat(textures: MapTextures, level: number, x: number, y: number, layer: number): number[] {
  const { data, width, height } = (textures.coats as DataArrayTexture).image as unknown as Picture
  const [x0, y0] = textures.levels[level]!.coats
  const at = 4 * ((layer * height + y0 + y) * width + x0 + x)
  return [...data.subarray(at, at + 4)]
}

function relief(textures: MapTextures, level: number, x: number, y: number, channel: number) {
  const [first, perRow, perChannel] = textures.levels[level]!.tiles
  const entry = first + channel * perChannel + Math.floor(y / tileSide) * perRow + Math.floor(x / tileSide)
  const index = (textures.tileIndex as DataTexture).image as unknown as Picture
  const block = index.data[Math.floor(entry / indexWidth) * indexWidth + (entry % indexWidth)]!
  if (block < 0) return null
  const left = (block & 0xffff) * tileSide + (x % tileSide)
  const top = (block >> 16) * tileSide + (y % tileSide)
  const four = (texture: unknown) => {
    const { data, width } = (texture as DataTexture).image as unknown as Picture
    const at = 4 * (top * width + left)
    return [...data.subarray(at, at + 4)]
  }
  return { grating: four(textures.grating), relief: four(textures.relief) }
}

interface Picture {
  readonly data: Uint8Array | Uint16Array | Int32Array
  readonly width: number
  readonly height: number
}

const value = (level: MaterialMap, name: string, x: number, y: number): number[] => {
  const plane = new PlaneReader(level.planes.get(name), level.width)
  const at = plane.at(x, y)
  return Array.from({ length: plane.components }, (_, i) => (at < 0 ? 0 : plane.data[at + i]!))
}

describe('a map as textures', () => {
  const levels = pyramid(map)
  // Room for two blocks a row, so that the pool has to wrap.
  for (const [name, side] of [
    ['roomy', 8192],
    ['narrow', 576],
  ] as const)
    test(`holds every level texel by texel, ${name}`, () => {
      const textures = mapTextures(levels, { side, bytes: 1 << 30 })
      expect(textures.skipped).toBe(0)
      levels.forEach((level, l) => {
        for (let i = 0; i < 200; i++) {
          const x = (i * 37) % level.width
          const y = (i * 101) % level.height
          const one = (plane: string) => value(level, plane, x, y)[0]
          expect(coat(textures, l, x, y, 0)).toEqual(['C', 'M', 'Y', 'K'].map(one))
          expect(coat(textures, l, x, y, 1).slice(0, 2)).toEqual([one('metal'), one('varnish')])
          expect(coat(textures, l, x, y, 2)).toEqual([one('white 0'), 0, 0, 0])
          expect(coat(textures, l, x, y, 3)).toEqual([one('spot 0'), 0, 0, 0])
          for (let channel = 0; channel < 2; channel++) {
            const kappa = value(level, `kappa ${channel}`, x, y)
            const found = relief(textures, l, x, y, channel)
            if (found === null) {
              expect(kappa).toEqual([0, 0])
              continue
            }
            // 16 unsigned bits hold the signed ones as they are.
            const signed = found.grating.slice(0, 2).map(v => (v << 16) >> 16)
            expect(signed).toEqual(kappa)
            expect(found.grating.slice(2)).toEqual(value(level, `spread ${channel}`, x, y))
            expect(found.relief).toEqual(value(level, `relief ${channel}`, x, y))
          }
        }
      })
    })

  test('says which plates it leaves out', () => {
    const spots = Array.from({ length: 6 }, () => [50, 0, 0] as const)
    const many = paintMap({ size: 4, sideMm: 4, gratings: 1, whites: [], spots, varnish: false }, () => ({}))
    expect(omittedFrom(many)).toEqual(['spot 4', 'spot 5'])
    expect(omittedFrom(map)).toEqual([])
  })

  test('leaves out the finest levels when the graphics card cannot hold them', () => {
    expect(mapTextures(levels, { side: 300, bytes: 1 << 30 }).skipped).toBe(1)
    const tight = mapTextures(levels, { side: 8192, bytes: 500_000 })
    expect(tight.skipped).toBe(2)
    expect(coat(tight, 0, 10, 20, 1)[0]).toBe(value(levels[2]!, 'metal', 10, 20)[0])
  })
})

describe('the first look of an edit', () => {
  const levels = pyramid(map)
  const edited = pyramid(
    paintMap(
      {
        size,
        sideMm: 30,
        gratings: 2,
        whites: [{ opacity: 0.5, hits: 1 }],
        spots: [[50, 0, 0]],
        varnish: true,
      },
      x => ({ gratings: x > 0 ? [grating(1200, 1)] : [] }),
    ),
  )
  const look = (level: number, reached: readonly number[]): FirstLook => ({
    level,
    reached: Int32Array.from(reached),
    planes: edited[level]!.planes,
  })
  const none = () => undefined
  /** What the index says of a tile of the first channel. */
  const entryOf = (textures: MapTextures, level: number, tile: number) =>
    ((textures.tileIndex as DataTexture).image as unknown as Picture).data[
      textures.levels[level]!.tiles[0] + tile
    ]!
  const all = (textures: MapTextures) =>
    levels.flatMap((level, l) =>
      Array.from({ length: 150 }, (_, i) => {
        const [x, y] = [(i * 37) % level.width, (i * 101) % level.height]
        return [0, 1].map(channel => relief(textures, l, x, y, channel))
      }),
    )

  test('is seen at its own level where the edit reaches, from every level, and nowhere else', () => {
    const textures = mapTextures(levels, { side: 8192, bytes: 1 << 30 })
    expect(textures.lookLevel).toBe(-1)
    // 5 × 5 tiles; the last two of the second row lie under the third of 3 × 3.
    const before = [0, 1, 2].map(tile => entryOf(textures, 0, tile))
    expect(textures.setLook(levels, look(1, [8, 9]), none)).toBe(true)
    expect(textures.lookLevel).toBe(1)
    for (const tile of [8, 9]) expect(entryOf(textures, 0, tile)).toBe(seeLook)
    expect([0, 1, 2].map(tile => entryOf(textures, 0, tile))).toEqual(before)
    const over = tilesAt(levels, [8, 9], 1)
    const grid = new TileGrid(levels[1]!.width, levels[1]!.height)
    for (let y = 0; y < grid.height; y += 7)
      for (let x = 0; x < grid.width; x += 7) {
        const tile = Math.floor(y / tileSide) * grid.perRow + Math.floor(x / tileSide)
        const from = over.includes(tile) ? edited[1]! : levels[1]!
        const found = relief(textures, 1, x, y, 0)
        const kappa = value(from, 'kappa 0', x, y)
        expect(found === null ? [0, 0] : found.grating.slice(0, 2).map(v => (v << 16) >> 16)).toEqual(kappa)
      }
    for (let level = 2; level < levels.length; level++)
      for (const tile of tilesAt(levels, [8, 9], level)) expect(entryOf(textures, level, tile)).toBe(seeLook)
  })

  test('is gone with the next update, and with another that reaches elsewhere or lies at another level', () => {
    const textures = mapTextures(levels, { side: 8192, bytes: 1 << 30 })
    const plain = all(textures)
    expect(textures.setLook(levels, look(1, [8, 9, 12]), none)).toBe(true)
    expect(textures.setLook(levels, look(1, [0]), none)).toBe(true)
    expect(entryOf(textures, 0, 9)).not.toBe(seeLook)
    expect(textures.setLook(levels, look(2, [20, 24]), none)).toBe(true)
    expect(entryOf(textures, 0, 0)).not.toBe(seeLook)
    expect(all(textures)).not.toEqual(plain)
    expect(textures.update(levels, [], none)).toBe(true)
    expect(textures.lookLevel).toBe(-1)
    expect(all(textures)).toEqual(plain)
  })

  test('of a level that the graphics card does not hold is left out', () => {
    const tight = mapTextures(levels, { side: 8192, bytes: 500_000 })
    expect(tight.skipped).toBe(2)
    expect(tight.setLook(levels, look(1, [8]), none)).toBe(true)
    expect(tight.lookLevel).toBe(-1)
  })
})
