import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { asMeasured, forPictures, openColorEngine } from '../../../core/color/profile.ts'

const root = new URL('../../../', import.meta.url)
const isoCoated = new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root)))
const engine = await openColorEngine()

const asLab = (v: ArrayLike<number>, i: number) => [v[i]! * 100, v[i + 1]! * 255 - 128, v[i + 2]! * 255 - 128]
const distance = (a: readonly number[], b: readonly number[]) => Math.hypot(...a.map((v, i) => v - b[i]!))

describe('the ICC engine', () => {
  it('puts the 16 full-tone primaries where FOGRA39L measured them', () => {
    // FOGRA39L characterisation data, as printed; the profile's largest error over all its patches is ΔE*ab 0.35.
    // Patches above the profile's 300 % total coverage are its own guess, so they are left out.
    const { rows } = JSON.parse(
      readFileSync(new URL('core/data/source/fogra39-primaries.json', root), 'utf8'),
    ) as { rows: number[][] }
    const inside = rows.filter(([c, m, y, k]) => c! + m! + y! + k! <= 300)
    expect(inside).toHaveLength(15)
    const transform = engine.transform({ icc: isoCoated }, 'Lab', asMeasured, 'FOGRA39')
    const got = transform.run(Float32Array.from(inside.flatMap(row => row.slice(0, 4).map(v => v / 100))))
    inside.forEach((row, i) => {
      expect(distance(asLab(got, 3 * i), row.slice(4)), `row ${row.join(' ')}`).toBeLessThanOrEqual(0.35)
    })
    transform.close()
  })

  it('prints nothing for white and keeps within 300 % for black', () => {
    // Relative colorimetric maps white to paper; the profile's own name states its total coverage.
    const transform = engine.transform('sRGB', { icc: isoCoated }, forPictures, 'art')
    const ink = transform.run(Float32Array.of(1, 1, 1, 0, 0, 0))
    // Half of the smallest step of an 8-bit plane.
    for (const v of ink.slice(0, 4)) expect(v).toBeLessThan(0.5 / 255)
    const sum = ink.slice(4).reduce((a, b) => a + b, 0)
    expect(sum).toBeGreaterThan(2.5)
    expect(sum).toBeLessThanOrEqual(3.0)
    transform.close()
  })

  it('comes back from print to the colours it set out with', () => {
    // Colours well inside the printable range return; ΔE*ab 2 covers the two tables of the profile (16 steps a side).
    const colours = [0.5, 0.5, 0.5, 0.8, 0.6, 0.5, 0.4, 0.5, 0.6, 0.7, 0.7, 0.4]
    const out = engine.transform('sRGB', { icc: isoCoated }, forPictures, 'art')
    const ink = Float32Array.from(out.run(Float32Array.from(colours)))
    const back = engine.transform({ icc: isoCoated }, 'Lab', forPictures, 'art')
    const direct = engine.transform('sRGB', 'Lab', forPictures, 'art')
    const printed = back.run(ink)
    const meant = direct.run(Float32Array.from(colours))
    for (let i = 0; i < colours.length; i += 3)
      expect(distance(asLab(printed, i), asLab(meant, i))).toBeLessThan(2)
    for (const one of [out, back, direct]) one.close()
  })

  it('gives sRGB mid grey its CIELAB lightness', () => {
    // IEC 61966-2-1: code 0.5 is 0.214041 of white; CIE 015: L* = 116·cbrt(0.214041) − 16 = 53.389 (4 digits of float).
    const transform = engine.transform('sRGB', 'Lab', forPictures, 'art')
    const [L, a, b] = asLab(transform.run(Float32Array.of(0.5, 0.5, 0.5)), 0)
    expect(L).toBeCloseTo(53.389, 2)
    expect(Math.hypot(a!, b!)).toBeLessThan(0.02)
    transform.close()
  })

  it('takes more pixels than one block, each by itself', () => {
    const transform = engine.transform('sRGB', { icc: isoCoated }, forPictures, 'art')
    const count = 70_000
    const pixels = new Float32Array(count * 3).fill(0.3)
    pixels.set([0.9, 0.2, 0.1], 69_999 * 3)
    const ink = transform.run(pixels)
    expect(ink).toHaveLength(count * 4)
    expect(ink.slice(65_536 * 4, 65_536 * 4 + 4)).toEqual(ink.slice(0, 4))
    const last = Float32Array.from(ink.slice(-4))
    expect(transform.run(Float32Array.of(0.9, 0.2, 0.1))).toEqual(last)
    transform.close()
  })

  it('names a profile and its space, and says what is wrong with bytes that are none', () => {
    expect(engine.inspect(isoCoated, 'x')).toEqual({
      name: 'ISO Coated v2 300% (basICColor)',
      space: 'CMYK',
    })
    expect(() => engine.inspect(new Uint8Array(200), 'chart.psd')).toThrow(
      'chart.psd: colour profile: 200 bytes that are no ICC profile',
    )
    expect(() => engine.transform({ icc: isoCoated.slice(0, 500) }, 'Lab', forPictures, 'chart.psd')).toThrow(
      'chart.psd: colour profile',
    )
  })
})
