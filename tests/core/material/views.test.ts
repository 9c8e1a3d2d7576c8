import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Finding } from '../../../core/base/finding.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import { channelVector } from '../../../core/effects/views.ts'
import { buildMap } from '../../../core/material/build.ts'
import { gridOf } from '../../../core/material/grid.ts'
import { minify } from '../../../core/material/mip.ts'
import { openFields } from '../../../core/material/pictures.ts'
import { planMap } from '../../../core/material/plan.ts'
import { stackAt } from '../../../core/material/sample.ts'
import type { MapSettings } from '../../../core/material/settings.ts'
import type { Target } from '../../../core/roles/role.ts'
import { assignLooking } from '../../../core/roles/suggest.ts'
import { type PaintedLayer, paintedFile } from '../painted.ts'

const root = new URL('../../../', import.meta.url)
const press = {
  engine: await openColorEngine(),
  profile: new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root))),
}
const size = 64

/** A map of layers that are all holography, one pixel a mm. */
async function build(
  layers: readonly PaintedLayer[],
  effects: readonly (readonly [string, EffectSpec])[],
  more: Partial<MapSettings> = {},
) {
  const file = paintedFile({ width: size, height: size, layers })
  const target = (id: string): Target => ({ kind: 'layer', id })
  const choices = layers.map(({ name }) => ({
    target: target(name),
    role: 'holography' as const,
    amount: null,
  }))
  const { map, findings } = await buildMap(file, {
    panel: { widthMm: size, heightMm: size, resolutionPpi: 25.4 },
    effects: effects.map(([id, effect]) => ({ target: target(id), effect })),
    whites: [],
    assigned: await assignLooking(file, { aliases: [], choices }),
    press,
    ...more,
  })
  return { map, codes: findings.map(finding => finding.code) }
}

/** Solid black over columns from..to of the document, or nothing. */
const stripe = (from: number, to: number) => (x: number) => [0, 0, 0, 1, x >= from && x < to ? 1 : 0]

const switchOf = (second: string): EffectSpec => ({ kind: 'switch', parameters: { secondLayerId: second } })
/** Shares of the gratings at a place of the panel, mm. */
const sharesAt = (map: Parameters<typeof stackAt>[0], x: number, y: number) =>
  stackAt(map, x, y).gratings.map(grating => grating.share)

describe('layers that become views', () => {
  it('read back as gratings: half of the area for each of two pictures, with the vectors of their places', async () => {
    const { map, codes } = await build(
      [
        { name: 'Comet', paint: stripe(8, 40) },
        { name: 'Star chart', paint: stripe(24, 56) },
      ],
      [['Comet', switchOf('Star chart')]],
    )
    expect(codes).toContain('shown-by-another')
    expect(map.viewSets).toHaveLength(1)
    const set = map.viewSets![0]!
    const both = stackAt(map, 30.5, 20.5).gratings
    expect(both.map(grating => grating.share)).toEqual([0.5, 0.5])
    expect(both.map(grating => grating.view)).toEqual([1, 2])
    both.forEach(({ pitch, azimuth, grooveDepth }, view) => {
      const [kx, ky] = channelVector(set.channels[view]!, set, 30.5, 20.5, [0, 0])
      expect(pitch).toBeCloseTo(1000 / Math.hypot(kx, ky), 9)
      expect(azimuth).toBeCloseTo(Math.atan2(ky, kx), 12)
      expect(grooveDepth).toBe(set.grooveDepth)
    })
    const only = (x: number) =>
      stackAt(map, x, 20.5).gratings.map(({ azimuth }) => Math.sign(azimuth - Math.PI / 2))
    // The first view is for an eye on the left, so its grooves lean that way: azimuth beyond 90°.
    expect([only(10.5), only(50.5), only(3.5)]).toEqual([[1], [-1], []])
    expect(map.areas.map(area => area.effect)).toContain('switch')
  })

  it('shift by parallax beyond their own edges, and are cut by a mask', async () => {
    const layers: PaintedLayer[] = [
      { name: 'Eyepiece', paint: stripe(28, 36) },
      { name: 'Rings', paint: stripe(28, 36) },
      { name: 'Frame', paint: stripe(0, 32) },
    ]
    const parameters = { depthMm: 20, fanDeg: 30, planes: [{ layerId: 'Rings', depthMm: -20 }] }
    const { map } = await build(layers.slice(0, 2), [['Eyepiece', { kind: 'layered', parameters }]])
    // 20 mm · tan 30° = 11.5 mm: the outermost views reach 16.5..24.5 and 39.5..47.5 mm.
    expect(sharesAt(map, 17.5, 20.5)).not.toEqual([])
    expect(sharesAt(map, 46.5, 20.5)).not.toEqual([])
    expect(sharesAt(map, 14.5, 20.5)).toEqual([])
    const masked = await build(layers, [
      ['Eyepiece', { kind: 'layered', parameters: { ...parameters, maskLayerId: 'Frame' } }],
      ['Frame', { kind: 'plain', parameters: { sharePercent: 0 } }],
    ])
    expect(sharesAt(masked.map, 17.5, 20.5)).not.toEqual([])
    expect(sharesAt(masked.map, 46.5, 20.5)).toEqual([])
  })

  it('share a pixel with a plain grating, together no more than the whole of it', async () => {
    const { map } = await build(
      [
        { name: 'Comet', paint: stripe(0, 64) },
        { name: 'Star chart', paint: stripe(0, 64) },
        { name: 'Rings', paint: stripe(0, 64) },
      ],
      [
        ['Comet', switchOf('Star chart')],
        ['Rings', { kind: 'plain', parameters: {} }],
      ],
    )
    const shares = sharesAt(map, 32.5, 32.5)
    expect(shares).toHaveLength(3)
    // Each is rounded to a byte, the views' to half of one.
    expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(2 / 255)
  })

  it('of two sets in one place show the heavier, in coarser maps too', async () => {
    const { map } = await build(
      [
        { name: 'Comet', paint: stripe(0, 33) },
        { name: 'Tail', paint: stripe(0, 33) },
        { name: 'Star', paint: stripe(35, 64) },
        { name: 'Chart', paint: stripe(35, 64) },
      ],
      [
        ['Comet', switchOf('Tail')],
        ['Star', { kind: 'switch', parameters: { secondLayerId: 'Chart', grooveDepthNm: 90 } }],
      ],
    )
    expect(map.viewSets).toHaveLength(2)
    const depths = (m: typeof map, x: number) => stackAt(m, x, 20.5).gratings.map(one => one.grooveDepth)
    const [first, second] = map.viewSets!.map(set => set.grooveDepth)
    expect([depths(map, 10.5), depths(map, 50.5)]).toEqual([
      [first, first],
      [second, second],
    ])
    // Four columns, 32..35, under one coarse pixel: one of the first set, one of the second.
    const coarse = minify(minify(map))
    expect(depths(coarse, 30)).toEqual([first, first])
    expect(depths(coarse, 38)).toEqual([second, second])
    const quarter = sharesAt(coarse, 34, 20.5)
    // One column in four of half the area; each byte rounded up or down.
    for (const share of quarter) expect(Math.abs(share - 1 / 8)).toBeLessThan(2 / 255)
  })

  it('of an object stay within their layer', async () => {
    const image = (value: number) => ({ width: 1, height: 1, data: Uint8Array.of(value) })
    const { map } = await build(
      [{ name: 'Eyepiece', paint: stripe(16, 48) }],
      [['Eyepiece', { kind: 'object-views', parameters: { assetId: 'turning', scalePercent: 500 } }]],
      { views: id => (id === 'turning' ? [image(255), image(51), image(0)] : undefined) },
    )
    // Thirds of the area, as bright as each picture; one that is dark has no grating. A picture of one sample fades
    // from its middle to its edges: 0.7 mm aside of 160 mm are 1 %.
    const shares = sharesAt(map, 32.5, 32.5)
    expect(shares).toHaveLength(2)
    ;[1 / 3, 51 / 255 / 3].forEach((share, i) => {
      expect(Math.abs(shares[i]! / share - 1)).toBeLessThan(0.01 + 1 / 51)
    })
    expect(sharesAt(map, 8.5, 32.5)).toEqual([])
  })

  it('of a layer that is gone stay dark, and the map says so', async () => {
    const { map, codes } = await build(
      [{ name: 'Comet', paint: stripe(0, 64) }],
      [['Comet', switchOf('Star chart')]],
    )
    expect(codes).toContain('picture-missing')
    expect(sharesAt(map, 32.5, 32.5)).toEqual([0.5])
  })

  it('are kept coarser where all of them together would take too much memory, and the map says so', async () => {
    const layers = [
      { name: 'Comet', paint: stripe(8, 40) },
      { name: 'Star chart', paint: stripe(24, 56) },
    ]
    const file = paintedFile({ width: size, height: size, layers })
    const panel = { widthMm: size, heightMm: size, resolutionPpi: 25.4 }
    const target = (id: string): Target => ({ kind: 'layer', id })
    const choices = layers.map(({ name }) => ({
      target: target(name),
      role: 'holography' as const,
      amount: null,
    }))
    const assigned = await assignLooking(file, { aliases: [], choices })
    const settings = {
      panel,
      effects: [{ target: target('Comet'), effect: switchOf('Star chart') }],
      whites: [],
    }
    const { areas } = await planMap(file, assigned, settings, {})
    const shown = async (most?: number) => {
      const findings: Finding[] = []
      const open = await openFields(file, gridOf(file.art, panel), areas, findings, {}, most ? { most } : {})
      const field = open[0]!.field
      if (field.kind !== 'views') throw new Error('a switch is views')
      const light = new Float64Array(2)
      return { light: [...field.at(16, 32, light)], codes: findings.map(finding => finding.code) }
    }
    const fine = await shown()
    expect(fine.codes).toEqual([])
    // Two pictures of 64 × 64 at 8 bytes: a quarter of that is half the resolution.
    const coarse = await shown((2 * size * size * 8) / 4)
    expect(coarse.codes).toEqual(['pictures-coarser'])
    // Away from edges a coarser picture shows the same.
    expect(coarse.light).toEqual(fine.light)
    expect(Math.max(...fine.light)).toBeGreaterThan(0)
  })
})
