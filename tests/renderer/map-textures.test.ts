import type { DataArrayTexture, DataTexture } from 'three'
import { describe, expect, test } from 'vitest'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { tileSide } from '../../core/material/tiles.ts'
import { rectangular } from '../../core/optics/groove.ts'
import { indexWidth, type MapTextures, mapTextures, omittedFrom } from '../../renderer/stage/mapTextures.ts'
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
