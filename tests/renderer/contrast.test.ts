import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { xyzToLab } from '../../core/color/lab.ts'
import { whiteDisplay } from '../../core/color/xyz.ts'
import { surroundCode } from '../../core/reference/display-picture.ts'

const css = readFileSync(new URL('../../renderer/style/tokens.css', import.meta.url), 'utf8')
const tokens = new Map([...css.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(hit => [hit[1], hit[2]]))

const code = (name: string): readonly number[] => {
  const hex = tokens.get(name)
  if (hex === undefined) throw new Error(`tokens.css: expected --${name}`)
  return [1, 3, 5].map(at => Number.parseInt(hex.slice(at, at + 2), 16))
}

/** WCAG 2.2, "relative luminance". */
function luminance(rgb: readonly number[]): number {
  const [r, g, b] = rgb.map(v => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4))
  return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0)
}

/** WCAG 2.2, "contrast ratio". */
function contrast(a: readonly number[], b: readonly number[]): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x)
  return ((high ?? 0) + 0.05) / ((low ?? 0) + 0.05)
}

describe('the window’s greys', () => {
  it('the formula gives WCAG’s own figures', () => {
    expect(contrast([0, 0, 0], [255, 255, 255])).toBeCloseTo(21, 9)
    // #767676 on white: 4.54, the lightest grey that passes AA.
    expect(contrast([0x76, 0x76, 0x76], [255, 255, 255])).toBeCloseTo(4.54, 2)
  })

  it('have no hue', () => {
    expect(tokens.size).toBeGreaterThan(8)
    for (const name of tokens.keys()) expect(new Set(code(name ?? '')).size, name).toBe(1)
  })

  it('text reaches 4.5 : 1 on everything it stands on (WCAG 1.4.3, AA)', () => {
    const pairs = [
      ['ink', 'table'],
      ['ink', 'tray'],
      ['ink', 'raised'],
      ['ink', 'well'],
      ['ink-quiet', 'tray'],
      ['ink-quiet', 'raised'],
      ['ink-quiet', 'well'],
      ['on-solid', 'solid'],
    ] as const
    for (const [ink, paper] of pairs)
      expect(contrast(code(ink), code(paper)), `${ink} on ${paper}`).toBeGreaterThanOrEqual(4.5)
  })

  it('focus rings reach 3 : 1 (WCAG 1.4.11)', () => {
    for (const paper of ['table', 'tray', 'raised'])
      expect(contrast(code('focus'), code(paper)), paper).toBeGreaterThanOrEqual(3)
  })

  it('the table is the surround of the picture, between L* 45 and 55', () => {
    expect(code('table')[0]).toBe(Math.round(255 * surroundCode))
    const y = luminance(code('table'))
    const [L] = xyzToLab([y * whiteDisplay[0], y, y * whiteDisplay[2]], whiteDisplay)
    expect(L).toBeGreaterThan(45)
    expect(L).toBeLessThan(55)
  })
})
