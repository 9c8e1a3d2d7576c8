import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Art, ArtFile, ColorMode } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import { buildMap, type MapOptions } from '../../../core/material/build.ts'
import { mapBytes } from '../../../core/material/bytes.ts'
import { stackAt } from '../../../core/material/sample.ts'
import type { MapSettings } from '../../../core/material/settings.ts'
import type { RoleRules } from '../../../core/roles/assign.ts'
import type { Target } from '../../../core/roles/role.ts'
import { assignLooking } from '../../../core/roles/suggest.ts'
import { type PaintedChannel, type PaintedLayer, paintedFile } from '../painted.ts'

const root = new URL('../../../', import.meta.url)
const press = {
  engine: await openColorEngine(),
  profile: new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root))),
}

/** A map of art at one pixel a document pixel, 1 mm each, unless told otherwise. */
async function build(file: ArtFile, more: Partial<MapSettings> = {}, rules: Partial<RoleRules> = {}) {
  const { width, height } = file.art
  const options: MapOptions = {
    panel: { widthMm: width, heightMm: height, resolutionPpi: 25.4 },
    effects: [],
    whites: [],
    assigned: await assignLooking(file, { aliases: [], choices: [], ...rules }),
    press,
    ...more,
  }
  const { map, findings } = await buildMap(file, options)
  return { map, findings, codes: findings.map(finding => finding.code) }
}

const art = (
  layers: readonly PaintedLayer[],
  channels: readonly PaintedChannel[] = [],
  size = 8,
  mode?: ColorMode,
) => paintedFile({ width: size, height: size, layers, channels, ...(mode ? { mode } : {}) })

const layer = (id: string): Target => ({ kind: 'layer', id })
const ink =
  (c: number, m: number, y: number, k: number, alpha = 1) =>
  () => [c, m, y, k, alpha]

describe('the layers of a carton as one stack', () => {
  it('puts everything where its role says, whatever the order in the file', async () => {
    const file = art(
      [
        { name: 'Comet', paint: x => [0.6, 0.2, 0, 0, x < 4 ? 1 : 0] },
        { name: 'White plate', paint: (_, y) => [0, 0, 0, 0, y < 4 ? 0.8 : 0] },
        { name: 'Holo', paint: ink(0, 0, 0, 0) },
        { name: 'Dieline', paint: ink(0, 1, 0, 0) },
      ],
      [{ name: 'Spot varnish', paint: x => (x === 0 ? 1 : 0) }],
    )
    const { map } = await build(file)
    const upperLeft = stackAt(map, 0.5, 7.5)
    expect(upperLeft).toMatchObject({ metal: 1, varnish: 1 })
    // 8-bit samples: 0.6 and 0.2 and 0.8 are whole numbers of 255.
    expect(upperLeft.cmyk).toEqual([0.6, 0.2, 0, 0])
    expect(upperLeft.whites).toEqual([{ coverage: 0.8, opacity: 0.5, hits: 1, screen: 'dots', mottle: 0 }])
    expect(upperLeft.gratings).toHaveLength(1)
    expect(upperLeft.gratings[0]!.pitch).toBeCloseTo(1000, 1)
    const lowerRight = stackAt(map, 7.5, 0.5)
    expect(lowerRight.cmyk).toEqual([0, 0, 0, 0])
    expect(lowerRight.whites[0]?.coverage).toBe(0)
    expect(lowerRight.varnish).toBe(0)
  })

  it('takes an undescribed white at 50 % opacity, one hit, and says that it assumed so', async () => {
    const file = art([
      { name: 'White 1', paint: ink(0, 0, 0, 0) },
      { name: 'White 2', paint: ink(0, 0, 0, 0) },
    ])
    const { map } = await build(file, {
      whites: [{ target: layer('White 2'), opacity: { from: 'contrast', value: 0.62 }, hits: 2 }],
    })
    expect(map.whites).toMatchObject([
      { name: 'White 1', opacity: 0.5, hits: 1, assumed: true },
      { name: 'White 2', opacity: 0.62, hits: 2, assumed: false },
    ])
  })

  it('makes one plate of a group and prints its layers over one another', async () => {
    const file = art([
      { name: 'a', parent: 'White', paint: ink(0, 0, 0, 0, 0.6) },
      { name: 'b', parent: 'White', paint: ink(0, 0, 0, 0, 0.6) },
      { name: 'old', parent: 'White', visible: false, paint: ink(0, 0, 0, 0, 1) },
      { name: 'White', kind: 'group', visible: false },
    ])
    const { map, findings } = await build(file)
    expect(map.whites).toHaveLength(1)
    // 1 − 0.4² = 0.84, to the plane's step.
    expect(stackAt(map, 4, 4).whites[0]?.coverage).toBeCloseTo(0.84, 2)
    expect(findings).toContainEqual(
      expect.objectContaining({ code: 'hidden-plate-used', where: 'layer "White"' }),
    )
  })

  it('leaves out a plate inside a group that is switched off, and says so', async () => {
    const file = art([
      { name: 'White', parent: 'Old version', paint: ink(0, 0, 0, 0) },
      { name: 'Old version', kind: 'group', visible: false },
    ])
    const { map, codes } = await build(file)
    expect(map.whites).toEqual([])
    expect(codes).toContain('hidden-plate-left-out')
  })

  it('paints more whites than a picture can show into the last', async () => {
    const file = art(
      [1, 2, 3, 4, 5].map(i => ({ name: `White ${i}`, paint: ink(0, 0, 0, 0, i === 5 ? 1 : 0.2) })),
    )
    const { map, codes } = await build(file)
    expect(map.whites).toHaveLength(4)
    expect(codes).toContain('many-plates')
    expect(stackAt(map, 4, 4).whites[3]?.coverage).toBe(1)
  })

  it('takes metal from the substrate layer where there is one, and everywhere where not', async () => {
    const half = art([{ name: 'Substrate', paint: x => [0, 0, 0, 0, x < 4 ? 1 : 0] }])
    const { map } = await build(half)
    expect([stackAt(map, 1, 1).metal, stackAt(map, 6, 1).metal]).toEqual([1, 0])
    expect(stackAt((await build(art([]))).map, 6, 1).metal).toBe(1)
  })

  it('keeps roles without optics, and says so', async () => {
    const { findings } = await build(art([{ name: 'Blind emboss', paint: ink(0, 0, 0, 1) }]))
    expect(findings).toContainEqual(
      expect.objectContaining({ code: 'role-without-optics', where: 'layer "Blind emboss"' }),
    )
  })
})

describe('spot channels', () => {
  it('of a real file become white and inks with the file’s own colours', async () => {
    // cmyk-spot.psd of psd-tools (MIT): three spot channels; its data are compared with the reader's own planes.
    const bytes = readFileSync(new URL('tests/fixtures/art/psd-tools__cmyk-spot.psd', root))
    const file = await readArt(memorySource('cmyk-spot.psd', bytes))
    const [blue] = file.art.channels
    const { map, codes } = await build(
      file,
      {},
      { choices: [{ target: { kind: 'channel', id: blue!.id }, role: 'white', amount: null }] },
    )
    expect(map.whites).toMatchObject([{ name: 'blue', assumed: true }])
    expect(map.spots.map(spot => spot.name)).toEqual(['fluorescent pink', 'yellow'])
    expect(codes).toEqual([])
    const plane = await file.documentPlane(blue!.plane)
    expect(plane.data.some(v => v < 255)).toBe(true)
    const read = map.planes.get('white1')!.data
    expect(plane.data.every((v, i) => read[i] === 255 - v)).toBe(true)
    expect(read).toHaveLength(plane.data.length)
    for (const { lab } of map.spots) expect(lab![0]).toBeGreaterThan(30)
  })

  it('give their ink as L*a*b*, from each way of writing it', async () => {
    const spot = (
      name: string,
      space: 'Lab' | 'CMYK' | 'RGB' | 'HSB' | 'Gray' | 'other',
      values: number[],
    ) => ({
      name,
      paint: () => 1,
      ink: { space, values },
    })
    const inks = async (...channels: PaintedChannel[]) =>
      (await build(art([], channels))).map.spots.map(s => s.lab)
    expect(await inks(spot('a', 'Lab', [40, 20, -30]), spot('b', 'other', []))).toEqual([[40, 20, -30], null])
    const [cyan, red, hsb, grey] = await inks(
      spot('a', 'CMYK', [1, 0, 0, 0]),
      spot('b', 'RGB', [1, 0, 0]),
      spot('c', 'HSB', [0, 1, 1]),
      spot('d', 'Gray', [0.5]),
    )
    // FOGRA39L, solid cyan: 55 / −37 / −50 (printed to whole units).
    expect(Math.hypot(cyan![0] - 55, cyan![1] + 37, cyan![2] + 50)).toBeLessThan(1)
    // sRGB red against D50: L* 54.29, a* 80.80, b* 69.89 (Bradford adapted; common tables, from memory).
    expect(Math.hypot(red![0] - 54.29, red![1] - 80.8, red![2] - 69.89)).toBeLessThan(0.1)
    expect(hsb).toEqual(red)
    expect(grey![0]).toBeCloseTo(53.39, 1)
  })

  it('of a multichannel file print as the process inks they are named after', async () => {
    const file = art(
      [],
      [
        { name: 'Cyan', paint: () => 0.4 },
        { name: 'Black', paint: () => 1 },
      ],
      4,
      'Multichannel',
    )
    const { map } = await build(file)
    expect(stackAt(map, 1, 1).cmyk).toEqual([0.4, 0, 0, 1])
    expect(map.spots).toEqual([])
  })
})

describe('holography', () => {
  it('has areas, with the effect that the job, a group or the rules choose', async () => {
    const file = art([
      { name: 'Holo rings', paint: x => [0, 0, 0, 0, x < 4 ? 1 : 0] },
      { name: 'Comet', parent: 'Holo', paint: x => [0, 0, 0, 0, x < 4 ? 0 : 1] },
      { name: 'Holo', kind: 'group' },
    ])
    const { map, findings } = await build(file, {
      effects: [
        { target: layer('Holo'), effect: { kind: 'plain', parameters: { pitchNm: 800, azimuthDeg: 30 } } },
      ],
    })
    expect(map.areas).toEqual([
      { id: 1, name: 'Holo rings', layerId: 'Holo rings', effect: 'concentric' },
      { id: 2, name: 'Comet', layerId: 'Comet', effect: 'plain' },
    ])
    expect([...new Set(map.planes.get('area')!.data)]).toEqual([1, 2])
    const [comet] = stackAt(map, 6, 4).gratings
    expect(comet!.pitch).toBeCloseTo(800, 1)
    expect((comet!.azimuth * 180) / Math.PI).toBeCloseTo(30, 2)
    expect(findings).toContainEqual(
      expect.objectContaining({
        code: 'effect-by-rule',
        where: 'layer "Holo rings"',
        message: 'shown as "Concentric rings": name has "rings"',
      }),
    )
  })

  it('centres rings on the layer, y up', async () => {
    const box = { left: 2, top: 0, right: 6, bottom: 4 }
    const { map } = await build(art([{ name: 'Holo rings', box, paint: ink(0, 0, 0, 0) }]))
    // The centre lies at (4, 6) mm.
    const direction = (x: number, y: number) => (stackAt(map, x, y).gratings[0]!.azimuth * 180) / Math.PI
    expect(direction(5.5, 7.5)).toBeCloseTo(45, 2)
    expect(direction(2.5, 7.5)).toBeCloseTo(135, 2)
    expect(direction(5.5, 4.5)).toBeCloseTo(-45, 2)
  })

  it('reads a code from hues inside the mask of another layer', async () => {
    const file = art([
      { name: 'Holo code', paint: (x, y) => (y < 4 ? [0, 1, 1, 0, 1] : [1, 0, 1, 0, x < 7 ? 1 : 0]) },
      { name: 'Outline', visible: false, paint: x => [0, 0, 0, 1, x < 3 || x === 7 ? 1 : 0] },
    ])
    const effect = { kind: 'coded', parameters: { maskLayerId: 'Outline' } }
    const { map } = await build(file, { effects: [{ target: layer('Holo code'), effect }] })
    expect(stackAt(map, 1, 7).gratings[0]!.pitch).toBeCloseTo(1240, 0)
    expect(stackAt(map, 1, 1).gratings[0]!.pitch).toBeCloseTo(1070, 0)
    expect(stackAt(map, 5, 7).gratings).toEqual([])
    // Inside the mask, but where the code is not painted, there is nothing to read.
    expect(stackAt(map, 7.5, 1).gratings).toEqual([])
  })

  it('takes the nearest of the effects that a layer and its groups have', async () => {
    const file = art([
      { name: 'Comet', parent: 'Holo', paint: ink(0, 0, 0, 0) },
      { name: 'Holo', kind: 'group' },
    ])
    const effects = ['Holo', 'Comet'].map((id, i) => ({
      target: layer(id),
      effect: { kind: 'plain', parameters: { pitchNm: 800 + 100 * i } },
    }))
    for (const order of [effects, effects.toReversed()])
      expect(stackAt((await build(file, { effects: order })).map, 1, 1).gratings[0]!.pitch).toBeCloseTo(
        900,
        0,
      )
  })

  it('says when the layer that masks an effect is not there', async () => {
    const effect = { kind: 'coded', parameters: { maskLayerId: '99' } }
    const { codes } = await build(art([{ name: 'Holo', paint: ink(0, 1, 1, 0) }]), {
      effects: [{ target: layer('Holo'), effect }],
    })
    expect(codes).toContain('mask-missing')
  })

  it('takes a layer clipped to another as its colours, not as a second grating', async () => {
    const file = art([
      { name: 'Shape', parent: 'Holo', paint: x => [0, 0, 0, 1, x < 4 ? 1 : 0] },
      { name: 'Colours', parent: 'Holo', clipped: true, paint: ink(0, 1, 1, 0) },
      { name: 'Holo', kind: 'group' },
    ])
    const effect = { kind: 'coded', parameters: {} }
    const target = layer('Shape')
    const rules: Partial<RoleRules> = {
      choices: [{ target, role: 'holography', amount: { from: 'ink', ink: 'K' } }],
    }
    const { map } = await build(file, { effects: [{ target: layer('Holo'), effect }] }, rules)
    expect(map.areas).toHaveLength(1)
    expect(stackAt(map, 1, 1).gratings).toHaveLength(1)
    expect(stackAt(map, 1, 1).gratings[0]!.pitch).toBeCloseTo(1240, 0)
    expect(stackAt(map, 6, 1).gratings).toEqual([])
  })

  it('gives areas that overlap channels of their own and shares the surface between them', async () => {
    const file = art([
      { name: 'Holo a', paint: ink(0, 0, 0, 0) },
      { name: 'Holo b', paint: x => [0, 0, 0, 0, x < 4 ? 1 : 0] },
    ])
    const effects = [0, 90].map((azimuthDeg, i) => ({
      target: layer(i ? 'Holo b' : 'Holo a'),
      effect: { kind: 'plain', parameters: { azimuthDeg } },
    }))
    const { map, findings } = await build(file, { effects })
    expect(map.gratings).toHaveLength(2)
    const both = stackAt(map, 1, 1).gratings
    expect(both.map(one => Math.round((one.azimuth * 180) / Math.PI))).toEqual([0, 90])
    for (const one of both) expect(one.share).toBeCloseTo(0.5, 2)
    expect(stackAt(map, 6, 1).gratings).toMatchObject([{ share: 1 }])
    expect(findings).toContainEqual(
      expect.objectContaining({
        code: 'holography-overlaps',
        message: expect.stringContaining('"Holo b" on "Holo a" (32.0 mm²)') as string,
      }),
    )
    // The upper of two equal ones names the area.
    expect(map.planes.get('area')!.data[0]).toBe(2)
  })

  it('does not call a shared soft edge an overlap', async () => {
    const file = art([
      { name: 'Holo a', paint: x => [0, 0, 0, 0, x < 4 ? 1 : x === 4 ? 0.5 : 0] },
      { name: 'Holo b', paint: x => [0, 0, 0, 0, x > 4 ? 1 : x === 4 ? 0.5 : 0] },
    ])
    const { map, codes } = await build(file)
    expect(codes).not.toContain('holography-overlaps')
    expect(stackAt(map, 4.5, 1).gratings.map(one => one.share)).toEqual([128 / 255, 128 / 255])
  })

  it('holds four areas at one place and says when a fifth is left out', async () => {
    const file = art(
      [1, 2, 3, 4, 5].map(i => ({ name: `Holo ${i}`, paint: ink(0, 0, 0, 0, i === 2 ? 0.4 : 1) })),
    )
    const { map, codes } = await build(file)
    expect(map.gratings).toHaveLength(4)
    expect(codes).toContain('too-many-gratings')
    // The smallest of the five gave way; the others keep 1 of 4.4 each.
    for (const one of stackAt(map, 1, 1).gratings) expect(one.share).toBeCloseTo(1 / 4.4, 2)
  })

  it('warns of pitches that the model was not checked for, and of areas without a grating', async () => {
    const file = art([
      { name: 'Holo fine', paint: ink(0, 0, 0, 0) },
      { name: 'Holo empty', paint: ink(0, 0, 0, 0, 0) },
    ])
    const { findings } = await build(file, {
      effects: [{ target: layer('Holo fine'), effect: { kind: 'plain', parameters: { pitchNm: 500 } } }],
    })
    expect(findings).toContainEqual(
      expect.objectContaining({
        code: 'pitch-not-validated',
        message: expect.stringContaining('500 nm (2000 lines/mm)') as string,
      }),
    )
    expect(findings).toContainEqual(
      expect.objectContaining({ code: 'holography-empty', where: 'layer "Holo empty"' }),
    )
  })
})

describe('the size of a map', () => {
  it('averages document pixels that share a map pixel: coverage as a mean, gratings as a tensor', async () => {
    const file = art([
      { name: 'Comet', paint: x => [x % 2 ? 1 : 0, 0, 0, 0, 1] },
      { name: 'Holo', paint: (x, y) => [...(x % 2 ? [0, 1, 1, 0] : [1, 1, 0, 0]), y < 4 ? 1 : 0] },
    ])
    const panel = { widthMm: 8, heightMm: 8, resolutionPpi: 12.7 }
    const effects = [{ target: layer('Holo'), effect: { kind: 'coded', parameters: {} } }]
    const { map } = await build(file, { panel, effects })
    expect([map.width, map.height]).toEqual([4, 4])
    const stack = stackAt(map, 1, 7)
    expect(stack.cmyk[0]).toBeCloseTo(0.5, 2)
    // Red 1240 nm and blue 910 nm side by side: mean and half difference of 1 / d.
    const [a, b] = [1000 / 1240, 1000 / 910]
    expect(1000 / stack.gratings[0]!.pitch).toBeCloseTo((a + b) / 2, 3)
    expect(stack.gratings[0]!.spreadAlong * 1000).toBeCloseTo((b - a) / 2, 3)
    expect(stack.gratings[0]!.spreadAcross).toBe(0)
  })

  it('takes the nearest document pixel where it is finer, and the effect at its own place', async () => {
    const file = art([
      { name: 'Comet', paint: x => [x / 7, 0, 0, 0, 1] },
      { name: 'Holo rings', paint: ink(0, 0, 0, 0) },
    ])
    const { map } = await build(file, { panel: { widthMm: 8, heightMm: 8, resolutionPpi: 25.4 * 4 } })
    expect(map.width).toBe(32)
    const row = [...map.planes.get('C')!.data.slice(0, 32)]
    expect(row).toEqual(row.map((_, x) => Math.round((Math.floor(x / 4) / 7) * 255)))
    // Two map pixels of one document pixel see the centre at (4, 4) from different sides.
    const a = stackAt(map, 6.1, 5.1).gratings[0]!.azimuth
    const b = stackAt(map, 6.9, 5.1).gratings[0]!.azimuth
    expect(a).toBeCloseTo(Math.atan2(1.125, 2.125), 4)
    expect(b).toBeCloseTo(Math.atan2(1.125, 2.875), 4)
  })

  it('says when art and finished size differ in proportion by more than half a per cent', async () => {
    const sized = (widthMm: number) =>
      build(art([]), { panel: { widthMm, heightMm: 8, resolutionPpi: 25.4 } })
    expect((await sized(8.03)).codes).toEqual([])
    const { findings } = await sized(8.2)
    expect(findings).toMatchObject([
      { code: 'aspect-differs', message: expect.stringContaining('2.5 % wider than drawn') as string },
    ])
  })

  it('refuses one that no memory could hold', async () => {
    const panel = { widthMm: 2000, heightMm: 2000, resolutionPpi: 600 }
    await expect(build(art([]), { panel })).rejects.toThrow('Choose a lower resolution')
  })

  it('does not depend on where strips end, also when pixels lie across them', async () => {
    // Wide enough for three strips of 250 rows; 7 rows of art make 5 of the map.
    const [width, height] = [3000, 700]
    const file = paintedFile({
      width,
      height,
      layers: [
        { name: 'Comet', paint: (_, y) => [(y % 256) / 255, 0, 0, 0, 1] },
        {
          name: 'Holo',
          box: { left: 0, top: 0, right: 100, bottom: height },
          paint: (_, y) => [0, 0, 0, 0, (y % 11) / 10],
        },
      ],
      channels: [{ name: 'White', paint: (_, y) => (y % 17) / 16 }],
    })
    const { map } = await build(file, { panel: { widthMm: 100, heightMm: 500, resolutionPpi: 25.4 } })
    expect([map.width, map.height]).toEqual([100, 500])
    const mean = (y: number, value: (row: number) => number) => {
      let sum = 0
      for (let row = Math.floor(y * 1.4); row < (y + 1) * 1.4 - 1e-9; row++)
        sum += value(row) * (Math.min(row + 1, (y + 1) * 1.4) - Math.max(row, y * 1.4))
      return sum / 1.4
    }
    for (let y = 0; y < 500; y++) {
      const { cmyk, whites, gratings } = stackAt(map, 0.5, 499.5 - y)
      // Painted and stored in steps of 1/255 each.
      expect(Math.abs(cmyk[0] - mean(y, row => (row % 256) / 255))).toBeLessThan(1 / 255)
      expect(Math.abs(whites[0]!.coverage - mean(y, row => (row % 17) / 16))).toBeLessThan(1.01 / 255)
      const share = mean(y, row => (row % 11) / 10)
      expect(Math.abs((gratings[0]?.share ?? 0) - share)).toBeLessThan(1.01 / 255)
    }
  })

  it('takes at most 20 bytes a pixel with one grating, one white and CMYK, and 8 without holography', async () => {
    // The map's stated memory, on a panel of 100 × 150 mm at 300 ppi.
    const layers: PaintedLayer[] = [
      { name: 'Holo', paint: ink(0, 0, 0, 0) },
      { name: 'White', paint: ink(0, 0, 0, 0) },
      { name: 'Comet', paint: ink(1, 0, 0, 0) },
    ]
    const panel = { widthMm: 100, heightMm: 150, resolutionPpi: 300 }
    const file = (some: readonly PaintedLayer[]) => paintedFile({ width: 20, height: 30, layers: some })
    const bytes = async (some: readonly PaintedLayer[]) => {
      const { map } = await build(file(some), { panel })
      return mapBytes(map) / (map.width * map.height)
    }
    expect(await bytes(layers)).toBeLessThanOrEqual(20)
    expect(await bytes(layers.slice(1))).toBeLessThanOrEqual(8)
  })
})

describe('art that is not in inks', () => {
  const paper = (mode: ColorMode, value: readonly number[], profile: Art['profile'] = null) =>
    build(
      paintedFile({ width: 2, height: 2, mode, profile, layers: [{ name: 'Comet', paint: () => value }] }),
    )

  it('RGB is separated for the press, paper stays bare, and a finding says from what to what', async () => {
    const { map, findings } = await paper('RGB', [1, 1, 1, 1])
    expect(stackAt(map, 1, 1).cmyk).toEqual([0, 0, 0, 0])
    expect(findings).toMatchObject([
      {
        code: 'separated',
        message:
          'RGB artwork, separated from sRGB, since no profile is embedded, to ISO Coated v2 300% (basICColor)',
      },
    ])
    const red = stackAt((await paper('RGB', [1, 0, 0, 1])).map, 1, 1).cmyk
    expect(red[1]).toBeGreaterThan(0.8)
    expect(red[2]).toBeGreaterThan(0.8)
    expect(red[0]).toBeLessThan(0.1)
  })

  it('see-through colour gives as much less ink', async () => {
    const full = stackAt((await paper('RGB', [1, 0, 0, 1])).map, 1, 1).cmyk
    const half = stackAt((await paper('RGB', [1, 0, 0, 0.4])).map, 1, 1).cmyk
    full.forEach((v, i) => {
      expect(half[i]).toBeCloseTo(0.4 * v, 2)
    })
  })

  it('Lab is separated from its own numbers: FOGRA39’s cyan asks for cyan', async () => {
    // FOGRA39L: 55 / −37 / −50 on paper 95 / 0 / −2; relative to paper the solid is a little lighter.
    const { map } = await paper('Lab', [57 / 100, (-41 + 128) / 255, (-52 + 128) / 255, 1])
    const [c, m, y, k] = stackAt(map, 1, 1).cmyk
    expect(c).toBeGreaterThan(0.95)
    expect(Math.max(m, y, k)).toBeLessThan(0.06)
  })

  it('grey prints in black alone', async () => {
    const { map, codes } = await paper('Grayscale', [0.4, 1])
    expect(stackAt(map, 1, 1).cmyk).toEqual([0, 0, 0, 0.6])
    expect(codes).toEqual(['grey-as-black'])
  })

  it('a profile that is broken, or of another mode, is passed over with a finding', async () => {
    const broken = { name: 'x', bytes: new Uint8Array(100) }
    const wrong = { name: 'x', bytes: press.profile }
    for (const [profile, why] of [
      [broken, 'sRGB, since its embedded profile cannot be used,'],
      [wrong, 'sRGB, since its profile "ISO Coated v2 300% (basICColor)" is for CMYK,'],
    ] as const) {
      const { map, findings } = await paper('RGB', [1, 1, 1, 1], profile)
      expect(stackAt(map, 1, 1).cmyk).toEqual([0, 0, 0, 0])
      expect(findings[0]?.message).toContain(why)
    }
  })
})

describe('long work', () => {
  const file = art([{ name: 'Holo', paint: ink(0, 0, 0, 0) }])
  const options = async (): Promise<MapOptions> => ({
    panel: { widthMm: 8, heightMm: 8, resolutionPpi: 100 },
    effects: [],
    whites: [],
    assigned: await assignLooking(file, { aliases: [], choices: [] }),
    press,
  })

  it('reports from 0 to 1, never back', async () => {
    const steps: number[] = []
    await buildMap(file, await options(), { progress: done => steps.push(done) })
    expect(steps[0]).toBe(0)
    expect(steps.at(-1)).toBe(1)
    expect(steps).toEqual(steps.toSorted((a, b) => a - b))
  })

  it('stops when told to', async () => {
    const controller = new AbortController()
    controller.abort()
    await expect(buildMap(file, await options(), { signal: controller.signal })).rejects.toThrow('cancelled')
  })

  it('names a wrong effect parameter', async () => {
    const effects = [{ target: layer('Holo'), effect: { kind: 'plain', parameters: { pitchNm: 9 } } }]
    await expect(buildMap(file, { ...(await options()), effects })).rejects.toThrow('effect "plain": pitchNm')
  })

  it('sends a map across threads whole (structured clone)', async () => {
    const { map } = await buildMap(file, await options())
    expect(structuredClone(map)).toEqual(map)
  })
})

describe('the stack at a place', () => {
  it('is refused outside the panel, and is there on its edges', async () => {
    const { map } = await build(art([{ name: 'Comet', paint: (x, y) => [x / 7, y / 7, 0, 0, 1] }]))
    expect(stackAt(map, 0, 0).cmyk.slice(0, 2)).toEqual([0, 1])
    expect(stackAt(map, 8, 8).cmyk.slice(0, 2)).toEqual([1, 0])
    for (const [x, y] of [
      [-0.1, 4],
      [4, 8.1],
      [Number.NaN, 4],
    ] as const)
      expect(() => stackAt(map, x, y)).toThrow('expected x 0..8 and y 0..8')
  })
})
