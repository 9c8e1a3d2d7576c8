import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { xyzToLab } from '../../core/color/lab.ts'
import { whiteDisplay } from '../../core/color/xyz.ts'
import { surroundCode } from '../../core/reference/display-picture.ts'

const tokensOf = (css: string) =>
  new Map([...css.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(hit => [hit[1], hit[2]]))
const style = (name: string): string =>
  readFileSync(new URL(`../../renderer/style/${name}.css`, import.meta.url), 'utf8')
const light = tokensOf(style('tokens'))
const [night = '', ...within] = style('dark').split(/(?=:root\[data-theme="dark"\] :is)/)
const table = within.find(rule => rule.includes('.table')) ?? ''
const dark = new Map([...light, ...tokensOf(night)])
/** What stands on the table keeps its own ink at night. */
const onTable = new Map([...dark, ...tokensOf(table)])
const themes = [
  ['light', light],
  ['dark', dark],
] as const

const code = (name: string, tokens: typeof light = light): readonly number[] => {
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

  it.each(themes)('have no hue, %s', (_, tokens) => {
    expect(tokens.size).toBeGreaterThan(8)
    for (const name of tokens.keys()) expect(new Set(code(name ?? '', tokens)).size, name).toBe(1)
  })

  it.each(themes)('text reaches 4.5 : 1 on everything it stands on (WCAG 1.4.3, AA), %s', (_, tokens) => {
    const pairs = [
      ['ink', 'tray'],
      ['ink', 'raised'],
      ['ink', 'well'],
      ['ink-quiet', 'tray'],
      ['ink-quiet', 'raised'],
      ['ink-quiet', 'well'],
      ['on-solid', 'solid'],
      ['on-solid', 'solid-strong'],
    ] as const
    for (const [ink, paper] of pairs)
      expect(contrast(code(ink, tokens), code(paper, tokens)), `${ink} on ${paper}`).toBeGreaterThanOrEqual(
        4.5,
      )
  })

  it('so does what stands on the table, by day and at night', () => {
    for (const tokens of [light, onTable])
      for (const ink of ['ink'])
        expect(contrast(code(ink, tokens), code('table', tokens)), ink).toBeGreaterThanOrEqual(4.5)
  })

  it.each(themes)('focus rings and edges of controls reach 3 : 1 (WCAG 1.4.11), %s', (name, tokens) => {
    for (const paper of ['tray', 'raised'])
      expect(contrast(code('focus', tokens), code(paper, tokens)), paper).toBeGreaterThanOrEqual(3)
    const around = name === 'light' ? light : onTable
    expect(contrast(code('focus', around), code('table', around))).toBeGreaterThanOrEqual(3)
  })

  it('the table is the surround of the picture, between L* 45 and 55', () => {
    expect(code('table')[0]).toBe(Math.round(255 * surroundCode))
    const y = luminance(code('table'))
    const [L] = xyzToLab([y * whiteDisplay[0], y, y * whiteDisplay[2]], whiteDisplay)
    expect(L).toBeGreaterThan(45)
    expect(L).toBeLessThan(55)
  })

  it('are those of the page of a proof, which brings them along, by day and at night', () => {
    const [day = '', dusk = ''] = style('../standalone/viewer').split('prefers-color-scheme: dark')
    for (const [own, tokens] of [
      [tokensOf(day), light],
      [tokensOf(dusk), dark],
    ] as const) {
      const shared = [...own.keys()].filter(name => tokens.has(name))
      expect(shared.length).toBeGreaterThan(8)
      for (const name of shared) expect(own.get(name), name).toBe(tokens.get(name))
    }
  })
})
