import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openColorEngine } from '../../../core/color/profile.ts'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import type { EffectTarget, Outline, PointMm } from '../../../core/effects/outline.ts'
import { buildMap, type MapOptions } from '../../../core/material/build.ts'
import { outlineRows } from '../../../core/material/outline-rows.ts'
import { stackAt } from '../../../core/material/sample.ts'
import type { MapSettings } from '../../../core/material/settings.ts'
import { assignLooking } from '../../../core/roles/suggest.ts'
import { type PaintedLayer, paintedFile } from '../painted.ts'

const root = new URL('../../../', import.meta.url)
const press = {
  engine: await openColorEngine(),
  profile: new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root))),
}
const size = 24

/** A map at one pixel a document pixel, 1 mm each. */
async function build(layers: readonly PaintedLayer[], more: Partial<MapSettings>) {
  const file = paintedFile({ width: size, height: size, layers })
  const options: MapOptions = {
    panel: { widthMm: size, heightMm: size, resolutionPpi: 25.4 },
    effects: [],
    whites: [],
    assigned: await assignLooking(file, { aliases: [], choices: [] }),
    press,
    ...more,
  }
  const { map, findings } = await buildMap(file, options)
  return { map, findings, codes: findings.map(finding => finding.code) }
}

const holo: PaintedLayer = { name: 'Holo', paint: () => [0, 0, 0, 0, 1] }
const square = (id: string, left: number, bottom: number, side: number): Outline => ({
  id,
  name: id,
  rings: [
    [
      [left, bottom],
      [left + side, bottom],
      [left + side, bottom + side],
      [left, bottom + side],
    ],
  ],
})
const plain = (pitchNm: number, more: Partial<EffectSpec> = {}): EffectSpec => ({
  kind: 'plain',
  parameters: { pitchNm, azimuthDeg: 0 },
  ...more,
})
const onLayer = async (effect: EffectSpec, outlines: readonly Outline[] = []) => {
  const file = paintedFile({ width: size, height: size, layers: [holo] })
  const target: EffectTarget = { kind: 'layer', id: file.art.layers[0]!.id }
  return build([holo], { effects: [{ target, effect }], outlines })
}

describe('an outline on the document', () => {
  const sheet = { width: 40, height: 40, widthMm: 40, heightMm: 40 }
  const areaOf = async (rings: readonly (readonly PointMm[])[]) => {
    const rows = outlineRows(sheet, { id: 'a', name: 'a', rings })
    let sum = 0
    // In strips, as the map asks for it.
    for (let top = 0; top < 40; top += 7) {
      const part = await rows.over(top, Math.min(40, top + 7))
      for (const value of part?.data ?? []) sum += value
    }
    return sum
  }

  it('covers as much as its area is', async () => {
    // A triangle has half base times height; a circle's polygon its own area ½ n r² sin(2π/n).
    expect(
      await areaOf([
        [
          [3.3, 4.1],
          [31.7, 8.2],
          [12.5, 35.9],
        ],
      ]),
    ).toBeCloseTo(0.5 * Math.abs(28.4 * 31.8 - 9.2 * 4.1), 0)
    const ring = (r: number) =>
      Array.from({ length: 90 }, (_, i): PointMm => {
        const a = (2 * Math.PI * i) / 90
        return [20 + r * Math.cos(a), 20 + r * Math.sin(a)]
      })
    const polygon = (r: number) => 45 * r * r * Math.sin((2 * Math.PI) / 90)
    expect(Math.abs((await areaOf([ring(12.3)])) - polygon(12.3))).toBeLessThan(0.5)
    // A ring inside is a hole, whichever way round it runs.
    for (const hole of [ring(5), ring(5).reverse()])
      expect(Math.abs((await areaOf([ring(12.3), hole])) - polygon(12.3) + polygon(5))).toBeLessThan(0.7)
  })

  it('has soft edges: a side at a quarter of a pixel covers a quarter', async () => {
    const rows = outlineRows(sheet, square('a', 10.25, 10.5, 5))
    const part = await rows.over(0, 40)
    const { box, data } = part!
    const at = (x: number, y: number) => data[(y - box.top) * (box.right - box.left) + x - box.left]
    expect(at(10, 26)).toBeCloseTo(0.75, 6)
    expect(at(12, 26)).toBe(1)
    // Lower edge at 10.5 mm: document row 29 from the top, half covered.
    expect(at(12, 29)).toBeCloseTo(0.5, 6)
    expect(at(15, 26)).toBeCloseTo(0.25, 6)
  })
})

describe('areas drawn on the panel', () => {
  it('take the place of the holography below them, by their soft edge', async () => {
    const file = paintedFile({ width: size, height: size, layers: [holo] })
    const { map, codes } = await build([holo], {
      outlines: [square('star', 8.5, 8, 8)],
      effects: [
        { target: { kind: 'layer', id: file.art.layers[0]!.id }, effect: plain(1400) },
        { target: { kind: 'outline', id: 'star' }, effect: plain(800) },
      ],
    })
    const pitches = (x: number, y: number) =>
      stackAt(map, x, y).gratings.map(one => [Math.round(one.pitch / 10) * 10, one.share])
    expect(pitches(2.5, 12.5)).toEqual([[1400, 1]])
    expect(pitches(12.5, 12.5)).toEqual([[800, 1]])
    const edge = pitches(8.5, 12.5)
    expect(edge.map(one => one[0])).toEqual([1400, 800])
    // Half each, to a step of a byte.
    for (const [, share] of edge) expect(Math.abs(share! - 0.5)).toBeLessThanOrEqual(1 / 255)
    expect(codes).not.toContain('holography-overlaps')
    expect(map.areas.map(area => area.name)).toEqual(['Holo', 'star'])
  })

  it('bring holography where the art has none', async () => {
    const { map } = await build([], {
      outlines: [square('star', 8, 8, 8)],
      effects: [{ target: { kind: 'outline', id: 'star' }, effect: plain(800) }],
    })
    expect(stackAt(map, 12.5, 12.5).gratings).toHaveLength(1)
    expect(stackAt(map, 2.5, 12.5).gratings).toHaveLength(0)
  })

  it.each<[string, Outline, string]>([
    ['beside the panel', square('star', 40, 40, 8), 'outline-outside'],
    ['over its edge', square('star', 20, 20, 8), 'outline-reaches-out'],
    ['without points', { id: 'star', name: 'star', rings: [] }, 'outline-empty'],
    [
      'a line',
      {
        id: 'star',
        name: 'star',
        rings: [
          [
            [1, 1],
            [9, 9],
          ],
        ],
      },
      'outline-empty',
    ],
  ])('%s are found, never a crash', async (_, outline, code) => {
    const { codes } = await build([holo], {
      outlines: [outline],
      effects: [{ target: { kind: 'outline', id: 'star' }, effect: plain(800) }],
    })
    expect(codes).toContain(code)
  })

  it('cannot be read from colours', async () => {
    const { codes } = await build([], {
      outlines: [square('star', 8, 8, 8)],
      effects: [{ target: { kind: 'outline', id: 'star' }, effect: { kind: 'coded', parameters: {} } }],
    })
    expect(codes).toContain('outline-without-colours')
  })
})

describe('effects on the map', () => {
  it('a rainbow on two axes is two gratings with half of a place each', async () => {
    const { map, codes } = await onLayer({ kind: 'crossed', parameters: { pitchNm: 1000, azimuthDeg: 0 } })
    const { gratings } = stackAt(map, 12.5, 12.5)
    expect(gratings.map(one => Math.round((180 * one.azimuth) / Math.PI))).toEqual([0, 90])
    for (const one of gratings) expect(Math.abs(one.share - 0.5)).toBeLessThanOrEqual(1 / 255)
    expect(codes).not.toContain('holography-overlaps')
    expect(codes).not.toContain('too-many-gratings')
  })

  it('an effect of a later version is plain foil, named in the legend, and said', async () => {
    const { map, findings, codes } = await onLayer({ kind: 'aurora', parameters: { strength: 3 } })
    expect(stackAt(map, 12.5, 12.5).gratings).toHaveLength(0)
    expect(map.areas[0]).toMatchObject({ name: 'Holo', effect: 'aurora' })
    expect(findings.find(one => one.code === 'effect-unknown')?.message).toContain('"aurora"')
    expect(codes).not.toContain('holography-empty')
  })

  it('holography out of register repeats, has seams, and lies elsewhere on each sheet', async () => {
    const register = { mode: 'continuous', repeatMm: 10, seamMm: 2, directionDeg: 0 } as const
    const ramp: EffectSpec = {
      kind: 'gradient',
      parameters: { pitchNm: 800, endPitchNm: 2000, rampDeg: 0, azimuthDeg: 0 },
    }
    const pitches = async (sheet: number) => {
      const { map } = await onLayer({ ...ramp, register: { ...register, sheet } })
      return Array.from({ length: size }, (_, x) => stackAt(map, x + 0.5, 12.5).gratings[0]?.pitch ?? 0)
    }
    const designed = await pitches(0)
    // The middle of the area is the middle of a repeat: 7..17 mm, of which 8..16 carry a grating.
    expect(
      designed
        .map((pitch, x) => [pitch, x])
        .filter(([pitch]) => pitch === 0)
        .map(([, x]) => x),
    ).toEqual([6, 7, 16, 17])
    for (let x = 0; x + 10 < size; x++) expect(designed[x + 10]).toBe(designed[x])
    const third = await pitches(3)
    expect(third).not.toEqual(designed)
    expect(await pitches(3)).toEqual(third)
    expect(await pitches(4)).not.toEqual(third)
    // A seam of 2 mm each 10 mm, wherever it lies: 20 % of the length, to a pixel at both ends of each.
    expect(Math.abs(third.filter(pitch => pitch === 0).length - 0.2 * size)).toBeLessThanOrEqual(3)
  })

  it('follows the tones of a print above it', async () => {
    const print: PaintedLayer = { name: 'Comet', paint: x => [0, 0, 0, x < 12 ? 1 : 0.5, x < 18 ? 1 : 0] }
    const file = paintedFile({ width: size, height: size, layers: [holo, print] })
    const [under, over] = file.art.layers
    const follow = async (what: 'share' | 'depth', gain: number) => {
      const { map } = await build([holo, print], {
        effects: [
          {
            target: { kind: 'layer', id: under!.id },
            effect: plain(1000, { follow: { what, from: { layerId: over!.id }, gain } }),
          },
        ],
      })
      return [5.5, 15.5, 21.5].map(x => stackAt(map, x, 12.5).gratings[0])
    }
    // Black, 50 % black and nothing: lightness 0, ½ and 1.
    const shares = (list: readonly ({ readonly share: number } | undefined)[]) =>
      list.map(one => one?.share ?? 0)
    const [none, half, whole] = shares(await follow('share', 1))
    expect(none).toBe(0)
    expect(Math.abs(half! - 0.5)).toBeLessThan(0.01)
    expect(whole).toBe(1)
    const [most, some, least] = shares(await follow('share', -1))
    expect([most, least]).toEqual([1, 0])
    expect(Math.abs(some! - 0.5)).toBeLessThan(0.01)
    // 60 nm times the root of what is left, to a nanometre.
    const depths = (await follow('depth', 0.5)).map(one => one?.grooveDepth)
    expect(depths).toEqual([Math.round(60 * Math.sqrt(0.5)), Math.round(60 * Math.sqrt(0.75)), 60])
  })
})
