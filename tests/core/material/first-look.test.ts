import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { apply } from '../../../core/color/matrix.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import { decode, rgbSpaces } from '../../../core/color/rgb.ts'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import type { MapOptions } from '../../../core/material/build.ts'
import { type FirstLook, lookLevel, tilesAt } from '../../../core/material/first-look.ts'
import { LiveMap } from '../../../core/material/live-map.ts'
import type { MaterialMap, PlaneData } from '../../../core/material/map.ts'
import { PlaneReader } from '../../../core/material/plane.ts'
import { TileGrid } from '../../../core/material/tiles.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Tables } from '../../../core/optics/tables.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { displayPicture } from '../../../core/reference/display-picture.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { assignLooking } from '../../../core/roles/suggest.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'
import { paintedFile } from '../painted.ts'

/** No outside source: the map that takes the place of a first look is what it is held to. */

const root = new URL('../../../', import.meta.url)
const press = {
  engine: await openColorEngine(),
  profile: new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root))),
}

const width = 701
const height = 583
const panel = { widthMm: 70.1, heightMm: 58.3, resolutionPpi: 254 }
const soft = (distance: number) => Math.max(0, Math.min(1, 0.5 - distance))
/** Rings that take most of the panel, a comet that shades off across them, and a sign that nobody edits. */
const file = paintedFile({
  width,
  height,
  layers: [
    { name: 'Lens rings', paint: (x, y) => [0, 0, 0, 1, soft(Math.hypot(x - 330, y - 290) - 270)] },
    {
      name: 'Comet',
      paint: (x, y) => [x / width, 0.3, y / height, 0, Math.max(0, 1 - Math.hypot(x - 400, y - 300) / 280)],
    },
    { name: 'Sign', paint: (x, y) => [0, 0, 0, 0.5, x > 640 && y > 520 ? 1 : 0] },
  ],
})
const holographic = ['Lens rings', 'Comet', 'Sign'] as const
const assigned = await assignLooking(file, {
  aliases: [],
  choices: holographic.map(id => ({
    target: { kind: 'layer' as const, id },
    role: 'holography' as const,
    amount: { from: 'alpha' as const },
  })),
})

const optionsOf = (effects: Readonly<Record<string, EffectSpec>>): MapOptions => ({
  panel,
  effects: Object.entries(effects).map(([id, effect]) => ({ target: { kind: 'layer', id }, effect })),
  outlines: [],
  whites: [],
  assigned,
  press,
})

const start: Readonly<Record<string, EffectSpec>> = {
  'Lens rings': { kind: 'concentric', parameters: { pitchNm: 1050 } },
  Comet: { kind: 'plain', parameters: { pitchNm: 900, azimuthDeg: 20, sharePercent: 60 } },
  Sign: { kind: 'plain', parameters: { pitchNm: 1300 } },
}

const edits: readonly (readonly [what: string, id: string, effect: EffectSpec])[] = [
  ['pitch', 'Lens rings', { kind: 'concentric', parameters: { pitchNm: 1190 } }],
  ['depth', 'Lens rings', { kind: 'concentric', parameters: { pitchNm: 1050, grooveDepthNm: 130 } }],
  ['kind', 'Lens rings', { kind: 'lens', parameters: {} }],
  [
    'depth after its own tones',
    'Comet',
    { kind: 'plain', parameters: {}, follow: { what: 'depth', from: 'own', gain: 0.6 } },
  ],
  [
    'direction by the colours of the art',
    'Comet',
    {
      kind: 'coded',
      parameters: {
        code: 'hue',
        gives: 'azimuth',
        pitchNm: 1000,
        stops: [
          { at: 0, value: 10 },
          { at: 1, value: 120 },
        ],
      },
    },
  ],
]

/** What an edit could write on: planes of the two finest levels, as they are now. */
const copyOf = (levels: readonly MaterialMap[]): readonly MaterialMap[] => structuredClone(levels.slice(0, 2))

const bytes = ({ buffer, byteOffset, byteLength }: PlaneData) => Buffer.from(buffer, byteOffset, byteLength)

const samePlanes = (a: MaterialMap, b: MaterialMap): boolean =>
  [...a.planes].every(([name, plane]) => bytes(plane.data).equals(bytes(b.planes.get(name)!.data)))

/** A level with a first look in place of its own planes. */
function withLook(levels: readonly MaterialMap[], { level, planes }: FirstLook): MaterialMap {
  const map = levels[level]!
  return { ...map, planes: new Map([...map.planes, ...planes]) }
}

/** Every map here has the same grooves and no plates, so its tables are those of all. */
let tables: readonly Tables[] | null = null

/** The picture of one level of a map, whatever its pixels' footprint. */
function picture(map: MaterialMap): Uint8Array | Uint8ClampedArray | Uint16Array {
  const scene = sceneFor(oneLamp({ azimuthDeg: 40, elevationDeg: 55, distanceMm: 400, diameterMm: 60 }, 0.4))
  tables ??= bakingsOf(scene, map).map(bakeTables)
  const size = { width: 60, height: 50, grid: 2 }
  const light = renderTile(scene, [map], tables, size, { top: 0, bottom: size.height })
  return displayPicture(light, scene, 8)
}

/** CIEDE2000 of every pixel of two pictures in sRGB, rising. */
function differences(a: ArrayLike<number>, b: ArrayLike<number>): readonly number[] {
  const { toXyz } = rgbSpaces.srgb
  const linear = (codes: ArrayLike<number>, i: number) =>
    [decode(codes[i]! / 255), decode(codes[i + 1]! / 255), decode(codes[i + 2]! / 255)] as const
  const white = apply(toXyz, [1, 1, 1])
  const lab = (codes: ArrayLike<number>, i: number) => xyzToLab(apply(toXyz, linear(codes, i)), white)
  return Array.from({ length: a.length / 3 }, (_, i) => deltaE2000(lab(a, 3 * i), lab(b, 3 * i))).sort(
    (one, other) => one - other,
  )
}

describe('the first look of an edit', () => {
  let live: LiveMap | null = null

  it('is as coarse as its area is large, and is not made of what is painted at once', () => {
    const sizes = [
      [3543, 2953],
      [1771, 1476],
      [885, 738],
      [442, 369],
      [221, 184],
      [110, 92],
    ] as const
    const levels = sizes.map(([width, height]) => ({ width, height }) as MaterialMap)
    const all = new TileGrid(...sizes[0]).all()
    expect(lookLevel(levels, [])).toBe(0)
    expect(lookLevel(levels, all.slice(0, 36))).toBe(0)
    expect(lookLevel(levels, all.slice(0, 224))).toBe(1)
    expect(lookLevel(levels, all.slice(0, 900))).toBe(2)
    expect(lookLevel(levels, all)).toBe(3)
  })

  for (const [what, id, effect] of edits)
    it(`of ${what} holds the tiles reached and no other, leaves the map alone, and is within ΔE00 1 in the mean and 4 for 95 of 100 pixels`, async () => {
      live ??= await LiveMap.build(file, optionsOf(start))
      const { levels } = live
      const before = copyOf(levels)
      const options = optionsOf({ ...start, [id]: effect })
      const look = await live.firstLook(options)
      if (look === null) throw new Error('expected a first look')
      expect(live.levels).toBe(levels)
      expect(before.every((map, i) => samePlanes(map, levels[i]!))).toBe(true)
      expect(look.level).toBe(1)

      const map = levels[1]!
      const grid = new TileGrid(map.width, map.height)
      const tiles = new Set(tilesAt(levels, [...look.reached], 1))
      for (const plane of look.planes.values()) {
        if (plane.layout !== 'tiles') throw new Error('expected tiles')
        expect(plane.index).toHaveLength(grid.count)
        expect([...plane.index.keys()].filter(tile => plane.index[tile]! >= 0 && !tiles.has(tile))).toEqual(
          [],
        )
      }

      expect(await live.edit(options)).toBe(true)
      // Every tile whose bytes the edit changes is among them.
      const differ = live.levels[0]!
      const fine = new TileGrid(differ.width, differ.height)
      const missed = new Set<number>()
      for (const { kappa, relief } of differ.gratings)
        for (const name of [kappa, relief]) {
          const [a, b] = [before, live.levels].map(
            ([finest]) => new PlaneReader(finest!.planes.get(name), differ.width),
          ) as [PlaneReader, PlaneReader]
          for (let y = 0; y < differ.height; y += 3)
            for (let x = 0; x < differ.width; x += 3) {
              const [i, j] = [a.at(x, y), b.at(x, y)]
              const same = (i < 0 && j < 0) || (i >= 0 && j >= 0 && a.data[i] === b.data[j])
              if (!same) missed.add((y >> 6) * fine.perRow + (x >> 6))
            }
        }
      expect(missed.size).toBeGreaterThan(20)
      for (const tile of look.reached) missed.delete(tile)
      expect([...missed]).toEqual([])
      const sorted = differences(picture(withLook(live.levels, look)), picture(live.levels[1]!))
      const mean = sorted.reduce((sum, one) => sum + one, 0) / sorted.length
      expect(mean).toBeLessThan(1)
      expect(sorted[Math.floor(0.95 * sorted.length)]).toBeLessThan(4)
      // The edit is seen at all.
      const unedited = differences(picture(before[1]!), picture(live.levels[1]!))
      expect(unedited.at(-1)).toBeGreaterThan(4)
      expect(await live.edit(optionsOf(start))).toBe(true)
    })

  it('over an edition before reaches what was edited since', async () => {
    live ??= await LiveMap.build(file, optionsOf(start))
    const held = live.levels
    const sign = { ...start, Sign: { kind: 'plain', parameters: { pitchNm: 1400 } } }
    expect(await live.edit(optionsOf(sign))).toBe(true)
    const edited = optionsOf({ ...sign, 'Lens rings': { kind: 'concentric', parameters: { pitchNm: 1190 } } })
    const [now, before] = [await live.firstLook(edited), await live.firstLook(edited, undefined, held)]
    const grid = new TileGrid(width, height)
    expect(now?.reached).not.toContain(grid.count - 1)
    expect(before?.reached).toContain(grid.count - 1)
    expect(await live.edit(optionsOf(start))).toBe(true)
  })

  it('is not made where more gratings meet, another groove comes or the map has to be built anew', async () => {
    const other = await LiveMap.build(
      file,
      optionsOf({ ...start, Comet: { kind: 'plain', parameters: { sharePercent: 30 } } }),
    )
    const { gratings } = other.levels[0]!
    const rings = (effect: EffectSpec) => other.firstLook(optionsOf({ ...start, 'Lens rings': effect }))
    expect(await rings({ kind: 'crossed', parameters: {} })).toBeNull()
    expect(gratings.length).toBeLessThan(3)
    expect(
      await rings({ kind: 'concentric', parameters: { shape: 'rectangular', dutyPercent: 30 } }),
    ).toBeNull()
    expect(await other.firstLook({ ...optionsOf(start), panel: { ...panel, resolutionPpi: 200 } })).toBeNull()
  })
})
