import { describe, expect, it } from 'vitest'
import type { ColorMode } from '../../../core/art/layer.ts'
import { readAmount } from '../../../core/roles/amount.ts'
import type { Amount, RoleName } from '../../../core/roles/role.ts'
import { assignLooking, suggestAmount } from '../../../core/roles/suggest.ts'
import { toneOf } from '../../../core/roles/tone.ts'
import { countTones, isRainbow } from '../../../core/roles/tones.ts'
import { paintedFile } from '../painted.ts'

const layer = { kind: 'layer', id: 'L' } as const
type Paint = (x: number, y: number) => readonly number[]

const fileOf = (paint: Paint, mode: ColorMode = 'CMYK') =>
  paintedFile({ width: 20, height: 20, mode, layers: [{ name: 'L', paint }] })

const half = (x: number) => (x < 10 ? 1 : 0)

describe('reading an amount', () => {
  const read = async (paint: Paint, amount: Amount, mode?: ColorMode) => {
    const region = { left: 3, top: 4, right: 4, bottom: 5 }
    const picture = await readAmount(fileOf(paint, mode), layer, amount, region)
    expect(picture).toMatchObject({ width: 1, height: 1 })
    return picture.data[0]
  }

  // Worked by hand: 8-bit samples, so a painted 0.4 is 102 / 255.
  it.each<[string, Paint, Amount, ColorMode, number]>([
    ['alpha', () => [0, 0, 0, 0, 0.4], { from: 'alpha' }, 'CMYK', 102],
    ['black ink times alpha', () => [0, 0, 0, 0.6, 1], { from: 'ink', ink: 'K' }, 'CMYK', 153],
    ['magenta ink times alpha', () => [1, 0.6, 0, 0, 1], { from: 'ink', ink: 'M' }, 'CMYK', 153],
    ['darkness of black ink', () => [0, 0, 0, 0.6, 1], { from: 'darkness' }, 'CMYK', 153],
    ['lightness of black ink', () => [0, 0, 0, 0.6, 1], { from: 'lightness' }, 'CMYK', 102],
    ['darkness of grey', () => [0.4, 1], { from: 'darkness' }, 'Grayscale', 153],
    ['black that RGB stands for', () => [0.4, 0.4, 0.4, 1], { from: 'ink', ink: 'K' }, 'RGB', 153],
    ['cyan that RGB stands for', () => [0, 1, 1, 1], { from: 'ink', ink: 'C' }, 'RGB', 255],
    ['no ink in RGB white', () => [1, 1, 1, 1], { from: 'ink', ink: 'Y' }, 'RGB', 0],
    ['lightness of Lab', () => [0.5, 128 / 255, 128 / 255, 1], { from: 'lightness' }, 'Lab', 119],
  ])('%s', async (_, paint, amount, mode, expected) => {
    // L* 50 is code 0.4663 of sRGB (119 of 255, IEC 61966-2-1 and CIE 15); the rest are exact.
    expect(await read(paint, amount, mode)).toBe(expected)
  })

  it('takes masks of groups, opacity and fill into account', async () => {
    const file = paintedFile({
      width: 2,
      height: 2,
      layers: [
        { name: 'L', parent: 'G', opacity: 0.8, fillOpacity: 0.5, paint: () => [0, 0, 0, 1, 1] },
        { name: 'G', kind: 'group', opacity: 0.5 },
      ],
    })
    const whole = { left: 0, top: 0, right: 2, bottom: 2 }
    const picture = await readAmount(file, { kind: 'layer', id: 'G' }, { from: 'alpha' }, whole)
    // 0.8 · 0.5 · 0.5 = 0.2 = 51 / 255.
    expect([...picture.data]).toEqual([51, 51, 51, 51])
  })

  it('averages down to the size asked for and keeps the mean', async () => {
    const file = fileOf(x => [0, 0, 0, 0, half(x)])
    const whole = { left: 0, top: 0, right: 20, bottom: 20 }
    const picture = await readAmount(file, layer, { from: 'alpha' }, whole, 3)
    expect(picture).toMatchObject({ width: 3, height: 3 })
    const mean = picture.data.reduce((a, b) => a + b, 0) / picture.data.length
    // Columns of 7, 7 and 6 pixels: 1, 3/7, 0 of 255, rounded.
    expect([...picture.data.slice(0, 3)]).toEqual([255, 109, 0])
    expect(mean).toBeCloseTo((255 + 109) / 3, 6)
  })

  it('reads a spot plane as ink and a saved selection as it is', async () => {
    const file = paintedFile({
      width: 2,
      height: 1,
      channels: [
        { name: 'White', paint: x => x * 0.6 },
        { name: 'Sel', kind: 'alpha', paint: x => x * 0.6 },
      ],
    })
    const whole = { left: 0, top: 0, right: 2, bottom: 1 }
    for (const id of ['White', 'Sel']) {
      const picture = await readAmount(file, { kind: 'channel', id }, { from: 'plane' }, whole)
      expect([...picture.data]).toEqual([0, 153])
    }
  })

  it('is empty for a layer without pixels', async () => {
    const file = paintedFile({ width: 2, height: 2, layers: [{ name: 'L' }] })
    const whole = { left: 0, top: 0, right: 2, bottom: 2 }
    expect([...(await readAmount(file, layer, { from: 'alpha' }, whole)).data]).toEqual([0, 0, 0, 0])
  })
})

describe('how an amount is meant', () => {
  const suggest = (paint: Paint, role: RoleName = 'white') => suggestAmount(fileOf(paint), layer, role)

  it.each<[string, Paint, RoleName, Amount, boolean]>([
    ['white on nothing', x => [0, 0, 0, 0, half(x)], 'white', { from: 'alpha' }, false],
    ['a soft white', x => [0, 0, 0, 0, x / 19], 'white', { from: 'alpha' }, false],
    ['a magenta stand-in', x => [0, 1, 0, 0, half(x)], 'white', { from: 'alpha' }, false],
    ['solid black as stand-in', x => [0, 0, 0, 1, half(x)], 'white', { from: 'ink', ink: 'K' }, false],
    ['a rich black as stand-in', x => [0.6, 0.4, 0.4, 1, half(x)], 'white', { from: 'ink', ink: 'K' }, false],
    ['one grey tone', x => [0, 0, 0, 0.5, half(x)], 'white', { from: 'ink', ink: 'K' }, true],
    ['grey tones', x => [0, 0, 0, x / 19, 1], 'white', { from: 'ink', ink: 'K' }, true],
    [
      'black on white',
      (x, y) => [0, 0, 0, x < 4 && y < 4 ? 1 : 0, 1],
      'white',
      { from: 'ink', ink: 'K' },
      true,
    ],
    ['white on black', (x, y) => [0, 0, 0, x < 4 && y < 4 ? 0 : 1, 1], 'white', { from: 'lightness' }, true],
    ['a white flood', () => [0, 0, 0, 0, 1], 'white', { from: 'alpha' }, true],
    ['metal everywhere', () => [0, 0, 0, 0.3, 1], 'substrate', { from: 'alpha' }, false],
    ['nothing at all', () => [0, 0, 0, 0, 0], 'white', { from: 'alpha' }, false],
    ['a rainbow for holography', x => [...rainbow(x), 1], 'holography', { from: 'alpha' }, false],
    ['a rainbow for varnish', x => [...rainbow(x), 1], 'varnish', { from: 'alpha' }, true],
    ['grey tones for holography', x => [0, 0, 0, x / 19, 1], 'holography', { from: 'alpha' }, true],
  ])('%s', async (_, paint, role, amount, asked) => {
    const suggestion = await suggest(paint, role)
    expect(suggestion).toMatchObject({ amount, askAmount: asked })
    expect(suggestion.amountReason).not.toBe('')
  })

  it('needs no look at what is not measured', async () => {
    expect(await suggest(() => [0, 0, 0, 0.5, 1], 'dieline')).toMatchObject({ askAmount: false })
  })

  it('is settled or asked for every role of a file, and stays as the user set it', async () => {
    const file = paintedFile({
      width: 8,
      height: 8,
      layers: [
        { name: 'Holo', paint: x => [...rainbow(x * 2), 1] },
        { name: 'White', paint: x => [0, 0, 0, x / 7, 1] },
        { name: 'White 2', paint: x => [0, 0, 0, x / 7, 1] },
        { name: 'Comet', paint: () => [1, 0, 0, 0, 1] },
      ],
      channels: [{ name: 'Halden blue', paint: () => 1 }],
    })
    const assigned = await assignLooking(file, {
      aliases: [],
      choices: [{ target: { kind: 'layer', id: 'White 2' }, role: 'white', amount: { from: 'lightness' } }],
    })
    expect(assigned.map(one => [one.role, one.askAmount])).toEqual([
      ['holography', false],
      ['white', true],
      ['white', false],
      ['overprint', false],
      ['spotInk', false],
    ])
    expect(assigned[2]?.amount).toEqual({ from: 'lightness' })
    expect(assigned.every(one => !one.amountReason.includes('not been looked at'))).toBe(true)
  })
})

/** Full inks round the hue circle, 20 steps. */
function rainbow(x: number): [number, number, number, number] {
  const ink = (turn: number) =>
    Math.min(1, Math.max(0, 2 - 6 * Math.abs(((((x / 20 - turn) % 1) + 1.5) % 1) - 0.5)))
  return [ink(0.5), ink(5 / 6), ink(1 / 6), 0]
}

describe('tones', () => {
  // Hues of the pure primaries and secondaries on the usual colour circle (red 0°, then every 60°).
  it.each([
    [1, 0, 0, 0],
    [1, 1, 0, 1 / 6],
    [0, 1, 0, 2 / 6],
    [0, 1, 1, 3 / 6],
    [0, 0, 1, 4 / 6],
    [1, 0, 1, 5 / 6],
  ])('of %d %d %d', (r, g, b, hue) => {
    expect(toneOf([r, g, b], { lightness: 0, hue: 0, chroma: 0 })).toMatchObject({ hue, chroma: 1 })
  })

  it('tell a rainbow from a stand-in colour and from black and white', async () => {
    const count = (paint: Paint) => {
      const file = fileOf(paint)
      return countTones(file, file.art.layers)
    }
    expect(isRainbow(await count(x => [...rainbow(x), 1]))).toBe(true)
    expect(isRainbow(await count(() => [0, 1, 0, 0, 1]))).toBe(false)
    expect(isRainbow(await count(x => [0, 0, 0, half(x), 1]))).toBe(false)
    const tones = await count(x => [0, 1, 0, 0, half(x)])
    expect(tones).toMatchObject({ covered: 0.5, opaque: 1, coloured: 1 })
    expect(tones.hues[5]).toBe(1)
  })
})
