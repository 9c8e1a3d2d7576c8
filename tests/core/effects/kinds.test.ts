import { describe, expect, it } from 'vitest'
import { coded, leastChroma, legendOf, usualLegend } from '../../../core/effects/coded.ts'
import type { ArtTone, EffectFrame, GratingSample, OpenField } from '../../../core/effects/effect.ts'
import { effectKind, effectKinds, prepareEffect } from '../../../core/effects/kinds.ts'
import { Raster } from '../../../core/effects/picture.ts'
import { sameGroove, sampled } from '../../../core/optics/groove.ts'

/** A panel's layer of 40 × 20 mm around (50, 80). */
const frame: EffectFrame = { centerXMm: 50, centerYMm: 80, widthMm: 40, heightMm: 20 }
const black: ArtTone = { lightness: 0, hue: 0, chroma: 0 }
const degrees = (radians: number) => (radians * 180) / Math.PI
/** The same grating for every multiple of 180°: 0..180. */
const axis = (radians: number) => ((degrees(radians) % 180) + 180) % 180

function sample(
  kind: string,
  parameters: Record<string, unknown>,
  x: number,
  y: number,
  tone = black,
): GratingSample {
  const out: GratingSample = { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }
  const field = opened(kind, parameters)
  if (field.kind !== 'grating') throw new TypeError(`"${kind}" is not one grating at a place`)
  return field.at(x, y, tone, out)
}

/** A field that has seen its pictures: each four ramps from dark to light, painted all over. */
function opened(kind: string, parameters: Record<string, unknown>): OpenField {
  const field = prepareEffect({ kind, parameters }, frame)
  if (field.kind !== 'pictures') return field
  const place = { leftMm: 30, bottomMm: 70, widthMm: 40, heightMm: 20 }
  const raster = (value: (x: number) => number) =>
    new Raster(
      place,
      40,
      20,
      Uint16Array.from({ length: 800 }, (_, i) => Math.round(65535 * value(i % 40))),
    )
  return field.open(field.wants.map(() => ({ cover: raster(() => 1), light: raster(x => (x % 10) / 9) })))
}

describe('every kind of holography', () => {
  it.each(effectKinds.map(kind => [kind.name, kind] as const))('%s is whole', (name, kind) => {
    expect(effectKind(name)).toBe(kind)
    expect(kind.title).not.toBe('')
    expect(kind.says).toMatch(/\.$/)
    expect(kind.limits.says).toMatch(/\.$/)
    expect(kind.limits.smallestMm).toBeGreaterThan(0)
    expect(kind.limits.pitchNm[0]).toBeGreaterThanOrEqual(400)
    for (const control of kind.controls) {
      expect(kind.defaults).toHaveProperty(control.key)
      const value = kind.defaults[control.key] as number
      expect(value).toBeGreaterThanOrEqual(control.min)
      expect(value).toBeLessThanOrEqual(control.max)
    }
    for (const choice of kind.choices)
      expect(choice.options.map(option => option.value)).toContain(kind.defaults[choice.key])
  })

  it.each(effectKinds.map(kind => kind.name))('%s takes its relief from the parameters', kind => {
    const tone: ArtTone = { lightness: 1, hue: 0.2, chroma: 1 }
    const field = opened(kind, { grooveDepthNm: 95, sharePercent: 40 })
    const out: GratingSample = { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }
    // Sparks are sparse: the first place that has one.
    const parts = field.kind === 'beside' ? field.parts : [field]
    const shares = parts.map(part => {
      if (part.kind === 'views') return part.share
      for (let x = 55; out.share === 0; x += 0.2) part.at(x, 80, tone, out)
      expect(out.grooveDepth).toBeCloseTo(95, 12)
      return out.share
    })
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(0.4, 12)
    expect(opened(kind, { shape: 'blazed' }).groove).toEqual({
      shape: 'blazed',
    })
  })

  it.each<[string, Record<string, unknown>, string]>([
    ['plain', { pitchNm: 399 }, 'effect "plain": pitchNm: expected a number 400..10000 nm, got 399'],
    ['plain', { pitchNm: '1000' }, 'effect "plain": pitchNm: expected a number 400..10000 nm, got "1000"'],
    ['plain', { pitchNm: Number.NaN }, 'effect "plain": pitchNm: expected a number 400..10000 nm, got null'],
    [
      'radial',
      { sharePercent: 101 },
      'effect "radial": sharePercent: expected a number 0..100 percent, got 101',
    ],
    ['plain', { pitchNm: -800 }, 'effect "plain": pitchNm: expected a number 400..10000 nm, got -800'],
    ['plain', { pitchNm: 6000 }, 'effect "plain": pitchNm: 6000 nm is wider than 5000 nm'],
    [
      'radial',
      { pitchNm: 6000, spreadPercent: 24 },
      'effect "radial": pitchNm: 6000 nm is wider than 5000 nm',
    ],
    [
      'plain',
      { pitchNm: 480, grooveDepthNm: 241 },
      'effect "plain": grooveDepthNm: 241 nm is more than half of the pitch, 480 nm',
    ],
    [
      'coded',
      {
        stops: [
          { at: 0, value: 900 },
          { at: 1, value: 420 },
        ],
        grooveDepthNm: 220,
      },
      'effect "coded": grooveDepthNm: 220 nm is more than half of the pitch, 420 nm',
    ],
    [
      'coded',
      { stops: [{ at: 0.5, value: 7000 }] },
      'effect "coded": stops[0].value: 7000 nm is wider than 5000 nm',
    ],
    [
      'plain',
      { spreadPercent: 61 },
      'effect "plain": spreadPercent: expected a number 0..60 percent, got 61',
    ],
    [
      'plain',
      { shape: 'rectangular', dutyPercent: 0 },
      'effect "plain": dutyPercent: expected a number 5..95',
    ],
    [
      'plain',
      { shape: 'sampled' },
      'effect "plain": profile: expected 4..4096 heights over one period, got none',
    ],
    [
      'plain',
      { shape: 'sampled', profile: { heights: '0 1 2' } },
      'effect "plain": profile: expected 4..4096 heights over one period, got 3',
    ],
    [
      'plain',
      { shape: 'sampled', profile: { heights: '0 1 x 2' } },
      'effect "plain": profile height 3: expected a number, got "x"',
    ],
    [
      'plain',
      { shape: 'sampled', profile: { heights: [0, 1, null, 2] } },
      'effect "plain": profile height 3: expected a number, got null',
    ],
    [
      'plain',
      { shape: 'sampled', profile: { heights: [5, 5, 5, 5] } },
      'effect "plain": profile: all heights are the same',
    ],
    ['concentric', { azimuthDeg: 5 }, 'effect "concentric": azimuthDeg: is not a parameter of this effect'],
    ['plain', { shape: 'square' }, 'effect "plain": shape: got "square"'],
    ['coded', { code: 'smell' }, 'effect "coded": code: got "smell"'],
    ['coded', { stops: [] }, 'effect "coded": stops: expected 1..64 lines'],
    [
      'coded',
      { stops: [{ at: 2, value: 900 }] },
      'effect "coded": stops[0].at: expected a number 0..1, got 2',
    ],
    [
      'coded',
      { stops: [{ at: 0, value: 900 }, null] },
      'effect "coded": stops[1].at: expected a number 0..1, got undefined',
    ],
    [
      'coded',
      { gives: 'azimuth', stops: [{ at: 0, value: 900 }] },
      'effect "coded": stops[0].value: expected a number -360..360 deg, got 900',
    ],
    ['coded', { maskLayerId: 3 }, 'effect "coded": maskLayerId: expected a layer id or null, got 3'],
    ['comet', {}, 'effect: kind "comet": no such kind of holography'],
  ])('%s refuses %j', (kind, parameters, message) => {
    expect(() => sample(kind, parameters, 0, 0)).toThrow(message)
  })
})

describe('plain', () => {
  it('is the same everywhere', () => {
    for (const [x, y] of [
      [0, 0],
      [50, 80],
      [99, 3],
    ] as const)
      expect(sample('plain', { pitchNm: 850, azimuthDeg: 30 }, x, y)).toMatchObject({
        pitch: 850,
        azimuth: Math.PI / 6,
      })
  })
})

describe('the relief', () => {
  const field = (parameters: Record<string, unknown>) => opened('plain', parameters)

  it('is a measured profile, pasted as numbers or as text, on any scale', () => {
    const list = [0, 40, 90, 120, 90, 40, 0, -5]
    const { groove } = field({ shape: 'sampled', profile: { name: 'bench 3', heights: list } })
    expect(groove).toEqual(sampled('bench 3', list))
    for (const text of [list.join('; '), list.join('\n'), ` ${list.join(',')}\r\n`])
      expect(sameGroove(field({ shape: 'sampled', profile: { heights: text } }).groove, groove)).toBe(true)
  })

  it('has a duty only where it is rectangular', () => {
    expect(field({ shape: 'rectangular', dutyPercent: 30 }).groove).toEqual({
      shape: 'rectangular',
      duty: 0.3,
    })
    expect(field({ shape: 'blazed', dutyPercent: 30 }).groove).toEqual({ shape: 'blazed' })
  })

  it('may be coarser than 5 µm where its pitch scatters so much that no colour is left', () => {
    const out = sample('plain', { pitchNm: 8000, spreadPercent: 30, jitterDeg: 20 }, 10, 10)
    expect(out).toMatchObject({ pitch: 8000, spread: 0.3 })
    expect(degrees(out.jitter)).toBeCloseTo(20, 12)
  })
})

describe('concentric and radial', () => {
  // Geometry: the grating vector is across the grooves, so it points away from the centre of rings and around the
  // centre of rays; y is up.
  it.each([
    [60, 80, 0],
    [50, 90, 90],
    [40, 80, 0],
    [50, 70, 90],
    [60, 90, 45],
    [40, 90, 135],
    [53, 84, degrees(Math.atan2(4, 3))],
  ])('at (%d, %d) rings point to %d° and rays across', (x, y, expected) => {
    expect(axis(sample('concentric', {}, x, y).azimuth)).toBeCloseTo(expected, 10)
    expect(axis(sample('radial', {}, x, y).azimuth)).toBeCloseTo((expected + 90) % 180, 10)
  })

  it('moves with its centre', () => {
    const moved = { offsetXMm: 10, offsetYMm: -5 }
    expect(axis(sample('concentric', moved, 60, 85).azimuth)).toBeCloseTo(90, 10)
    expect(axis(sample('radial', moved, 70, 75).azimuth)).toBeCloseTo(90, 10)
  })

  it('has a direction even at the centre', () => {
    expect(sample('concentric', {}, 50, 80).azimuth).toBe(0)
  })
})

describe('coded', () => {
  const at = (parameters: Record<string, unknown>, tone: Partial<ArtTone>) =>
    sample('coded', parameters, 0, 0, { lightness: 0.5, hue: 0, chroma: 1, ...tone })

  it('shows each hue under a lamp 30° off the line of sight, unless told otherwise', () => {
    // Grating equation at that angle, first order: λ = d sin 30°; red, green and blue lie in their own bands
    // (CIE 015 has no hue names; limits from memory).
    const [red, green, blue] = [0, 1 / 3, 2 / 3].map(hue => at({}, { hue }).pitch * Math.sin(Math.PI / 6))
    expect(red).toBeGreaterThan(600)
    expect(green).toBeGreaterThan(510)
    expect(green).toBeLessThan(560)
    expect(blue).toBeLessThan(480)
    expect(at({}, { hue: 0.1 })).toMatchObject({ azimuth: Math.PI / 2 })
  })

  it('goes straight between the lines of the legend', () => {
    const stops = [
      { at: 0.25, value: 800 },
      { at: 0.75, value: 1200 },
    ]
    const tone = { code: 'tone', gives: 'pitch', stops }
    // Lightness: level beyond the ends.
    expect([0, 0.25, 0.5, 0.7, 0.75, 1].map(lightness => at(tone, { lightness }).pitch)).toEqual([
      800, 800, 1000, 1160, 1200, 1200,
    ])
    // Hue: on from the last to the first.
    const hue = { code: 'hue', gives: 'pitch', stops }
    for (const [turn, pitch] of [
      [0, 1000],
      [0.125, 900],
      [0.25, 800],
      [0.5, 1000],
      [0.875, 1100],
      [1, 1000],
    ] as const)
      expect(at(hue, { hue: turn }).pitch).toBeCloseTo(pitch, 9)
  })

  it('does not care in which order the lines are written', () => {
    const stops = [
      { at: 1, value: 1400 },
      { at: 0, value: 800 },
    ]
    expect(at({ code: 'tone', stops }, { lightness: 0.5 }).pitch).toBe(1100)
    expect(legendOf({ code: 'tone', stops }).stops[0]).toEqual({ at: 0, value: 800 })
  })

  it('turns a hue circle into half a turn without a jump', () => {
    const azimuth = (hue: number) => degrees(at({ gives: 'azimuth' }, { hue }).azimuth)
    expect(azimuth(0)).toBeCloseTo(0, 9)
    expect(azimuth(0.5)).toBeCloseTo(90, 9)
    expect(azimuth(0.75)).toBeCloseTo(135, 9)
    // Across the seam at red the direction goes on to 180°, which is the same grating as 0°.
    expect(azimuth(0.999)).toBeCloseTo(179.82, 9)
  })

  it('keeps pitch or direction from the parameters, whichever is not read', () => {
    expect(at({ gives: 'azimuth', pitchNm: 1300 }, {}).pitch).toBe(1300)
    expect(degrees(at({ gives: 'pitch', azimuthDeg: 45 }, {}).azimuth)).toBeCloseTo(45, 9)
  })

  it('leaves the foil plain where a hue is asked and there is none', () => {
    expect(at({}, { chroma: leastChroma / 2 }).share).toBe(0)
    expect(at({}, { chroma: leastChroma }).share).toBe(1)
    expect(at({ code: 'tone' }, { chroma: 0 }).share).toBe(1)
  })

  it('has a usual legend within range for each of its codes', () => {
    for (const code of ['hue', 'tone'] as const)
      for (const gives of ['pitch', 'azimuth'] as const) {
        const { stops } = legendOf({ code, gives })
        expect(stops).toEqual(usualLegend(code, gives))
        // Given as a job would write it, it is accepted.
        expect(legendOf({ code, gives, stops }).stops).toEqual(stops)
      }
  })

  it('names the layer that masks it', () => {
    expect(coded.prepare({ maskLayerId: '12' }, frame)).toMatchObject({ maskLayerId: '12', readsArt: true })
  })
})
