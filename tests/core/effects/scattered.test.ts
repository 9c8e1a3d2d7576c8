import { describe, expect, it } from 'vitest'
import { cellSpread } from '../../../core/effects/cells.ts'
import { chance, normal } from '../../../core/effects/chance.ts'
import type { EffectFrame, GratingSample } from '../../../core/effects/effect.ts'
import { nearestSite } from '../../../core/effects/facets.ts'
import { effectKinds, prepareEffect } from '../../../core/effects/kinds.ts'

const frame: EffectFrame = { centerXMm: 50, centerYMm: 80, widthMm: 40, heightMm: 20 }
const grey = { lightness: 0.5, hue: 0, chroma: 0 }

function sampler(kind: string, parameters: Record<string, unknown> = {}, in_: EffectFrame = frame) {
  const field = prepareEffect({ kind, parameters }, in_)
  if (field.kind !== 'grating') throw new TypeError(`"${kind}" is not one grating at a place`)
  return (x: number, y: number): GratingSample =>
    field.at(x, y, grey, { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 })
}

/** Places spread evenly over the frame. */
const places = Array.from({ length: 4000 }, (_, i) => [30 + ((i * 7919) % 4000) / 100, 70 + i / 200] as const)

describe('chance', () => {
  it('is even, and neighbours know nothing of one another', () => {
    const numbers = Array.from({ length: 10_000 }, (_, i) => chance(i % 100, Math.floor(i / 100), 7, 0))
    const mean = numbers.reduce((sum, n) => sum + n, 0) / numbers.length
    // Deviation of the mean of 10 000 even numbers: 1 / √(12 · 10 000) = 0.003; four of them.
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.012)
    let product = 0
    for (let i = 1; i < numbers.length; i++) product += (numbers[i]! - 0.5) * (numbers[i - 1]! - 0.5)
    // A correlation of n pairs strays by 1 / √n = 0.01.
    expect(Math.abs((12 * product) / numbers.length)).toBeLessThan(0.04)
  })

  it('makes normal deviates of mean 0 and variance 1', () => {
    const numbers = Array.from({ length: 10_000 }, (_, i) => normal(i % 100, Math.floor(i / 100), 3, 0))
    const mean = numbers.reduce((sum, n) => sum + n, 0) / numbers.length
    const variance = numbers.reduce((sum, n) => sum + n * n, 0) / numbers.length
    expect(Math.abs(mean)).toBeLessThan(0.04)
    // Variance of a sample strays by √(2/n) = 0.014.
    expect(Math.abs(variance - 1)).toBeLessThan(0.057)
  })

  it.each(effectKinds.filter(kind => 'seed' in kind.defaults).map(kind => kind.name))(
    '%s is the same for the same number and another for another',
    kind => {
      const [one, same, other] = [{ seed: 4 }, { seed: 4 }, { seed: 5 }].map(parameters =>
        sampler(kind, parameters),
      )
      const at = (read: typeof one) => places.slice(0, 200).map(([x, y]) => read!(x, y))
      expect(at(one)).toEqual(at(same))
      expect(at(one)).not.toEqual(at(other))
    },
  )
})

describe('facets', () => {
  it('are one grating each, divided half way between their sites', () => {
    const read = sampler('facets', { facetMm: 3, seed: 2 })
    const nearest = nearestSite(2)
    const byFacet = new Map<string, GratingSample>()
    for (const [x, y] of places) {
      const key = nearest(x / 3, y / 3).join()
      const there = read(x, y)
      expect(there).toEqual(byFacet.get(key) ?? there)
      byFacet.set(key, there)
    }
    // 40 × 20 mm of facets of 3 mm: 89, and those cut by the edge.
    expect(byFacet.size).toBeGreaterThan(80)
    expect(new Set([...byFacet.values()].map(one => one.azimuth)).size).toBe(byFacet.size)
  })

  it('have the nearest of all sites, looked for far and wide', () => {
    const nearest = nearestSite(9)
    const site = (c: number, r: number) => [c + chance(c, r, 9, 0), r + chance(c, r, 9, 1)] as const
    for (const [px, py] of places.slice(0, 300)) {
      const [x, y] = [px / 5, py / 5]
      let best = ''
      let least = Number.POSITIVE_INFINITY
      for (let c = Math.floor(x) - 5; c <= x + 5; c++)
        for (let r = Math.floor(y) - 5; r <= y + 5; r++) {
          const distance = Math.hypot(site(c, r)[0] - x, site(c, r)[1] - y)
          if (distance < least) [best, least] = [`${c},${r}`, distance]
        }
      expect(nearest(x, y).join()).toBe(best)
    }
  })
})

describe('mosaic', () => {
  it('has as many directions and pitches as it says, the same all over a cell', () => {
    const read = sampler('mosaic', { cellMm: 0.5, directions: 6, pitches: 3, finestNm: 800, widestNm: 1200 })
    const all = places.map(([x, y]) => read(x, y))
    const turns = new Set(all.map(one => Math.round((6 * one.azimuth) / Math.PI)))
    expect([...turns].sort()).toEqual([0, 1, 2, 3, 4, 5])
    // Even in lines a millimetre: 1250, 1041.7 and 833.3.
    expect([...new Set(all.map(one => Math.round(one.pitch)))].sort((a, b) => a - b)).toEqual([
      800, 960, 1200,
    ])
    expect(read(31.01, 75.01)).toEqual(read(31.49, 75.49))
  })

  it('widens the flash of cells smaller than the board’s, as their own diffraction does', () => {
    // Deviation of a cell's diffraction 0.376 λ/p: with 25 µm in place of 50 µm the variance is 3 (0.376 λ / 50 µm)²
    // larger, so the vector strays by √3 · 0.376 / 50 µm, times a pitch of 1 µm.
    expect(cellSpread(0.025, 1000)).toBeCloseTo((Math.sqrt(3) * 0.376) / 50, 12)
    expect(cellSpread(0.05, 1000)).toBe(0)
    expect(cellSpread(3, 1000)).toBe(0)
  })
})

describe('sparkle', () => {
  it('fills the part of the area that it says', () => {
    const read = sampler('sparkle', { fillPercent: 20, cellMm: 0.1 })
    const lit = places.filter(([x, y]) => read(x, y).share > 0).length / places.length
    // Of 4000 cells: deviation √(0.2 · 0.8 / 4000) = 0.0063; four of them.
    expect(Math.abs(lit - 0.2)).toBeLessThan(0.026)
  })
})

describe('brushed metal', () => {
  it('strays by as much as it says, between hairlines and within them together', () => {
    const read = sampler('brushed', { spreadPercent: 8, jitterDeg: 4, pitchNm: 1200, azimuthDeg: 90 })
    const all = places.map(([x, y]) => read(x, y))
    const finer = all.map(one => 1200 / one.pitch)
    const mean = finer.reduce((sum, n) => sum + n, 0) / finer.length
    const between = finer.reduce((sum, n) => sum + (n - mean) ** 2, 0) / finer.length
    const whole = Math.sqrt(between + all[0]!.spread ** 2)
    // Deviates beyond two are clipped, which takes 8 % of the variance between hairlines; a few per cent are chance.
    expect(whole).toBeGreaterThan(0.073)
    expect(whole).toBeLessThan(0.082)
    expect(mean).toBeCloseTo(1, 2)
  })

  it('has hairlines along its grooves', () => {
    // Across the grooves is up: along a level line nothing changes for a while, across it everything does.
    const read = sampler('brushed', { azimuthDeg: 90, lineMm: 0.2, lengthMm: 20 })
    const changes = (dx: number, dy: number) =>
      places.slice(0, 500).filter(([x, y]) => read(x, y).pitch !== read(x + dx, y + dy).pitch).length
    expect(changes(0.5, 0)).toBeLessThan(40)
    expect(changes(0, 0.5)).toBeGreaterThan(480)
  })
})

describe('cells finer than the map', () => {
  it.each([
    ['mosaic', { cellMm: 0.05 }],
    ['sparkle', { cellMm: 0.05 }],
    ['facets', { facetMm: 0.1 }],
    ['brushed', { lineMm: 0.05 }],
  ])('%s says so', (kind, parameters) => {
    // 100 ppi: 0.254 mm a pixel.
    const codes = (pixelMm: number) =>
      (prepareEffect({ kind, parameters }, { ...frame, pixelMm }).warnings ?? []).map(one => one.code)
    expect(codes(0.254)).toEqual(['finer-than-map'])
    expect(codes(0.01)).toEqual([])
  })
})
