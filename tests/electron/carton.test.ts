import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cartonStyles } from '../../core/carton/style.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-carton-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const sizes = ['--size', '80x45x120', '--measure', 'outside', '--caliper', '0.4']

interface CartonJson {
  readonly panelWidths: readonly number[]
  readonly glue: number
  readonly blank: readonly [number, number]
  readonly inside: readonly number[]
  readonly panels: readonly {
    readonly name: string
    readonly outline: readonly (readonly [number, number])[]
  }[]
  readonly code: string
}

async function made(...args: string[]): Promise<CartonJson> {
  const { code, out, err } = await runCli('carton', ...args, '--json')
  expect([code, err]).toEqual([0, ''])
  return JSON.parse(out) as CartonJson
}

describe('carton', () => {
  test('JSON: panel widths from the glue flap on, glue, blank, panels with outlines', async () => {
    const { panelWidths, glue, blank, inside, panels } = await made(
      '--style',
      'reverse-tuck',
      ...sizes,
      '--glue',
      '14',
      '--tuck',
      '16',
    )
    // By hand from the caliper: length less 2, width less 1, front less 1; the last panel a caliper short.
    expect(panelWidths).toEqual([79.2, 44.6, 79.6, 44.2])
    expect(glue).toBe(14)
    // Inside 3, 2 and 4 calipers less.
    expect(inside).toEqual([78.8, 44.2, 118.4])
    expect(blank[0]).toBeCloseTo(14 + 79.2 + 44.6 + 79.6 + 44.2, 9)
    // Side panels 3 calipers less than the height, then on each end a caliper, the lid and the tongue.
    const lid = 44.6 - 0.4 - 0.1
    expect(blank[1]).toBeCloseTo(120 - 3 * 0.4 + 2 * (0.4 + lid + 16), 3)
    expect(panels.map(panel => panel.name)).toEqual(
      expect.arrayContaining([
        'glue flap',
        'back',
        'left side',
        'front',
        'right side',
        'top lid',
        'bottom lid',
      ]),
    )
    for (const { outline } of panels) expect(outline.length).toBeGreaterThanOrEqual(3)
  })

  test.each(cartonStyles)('$name: a table with panels and where each allowance is from', async ({ name }) => {
    const { code, out } = await runCli('carton', '--style', name, ...sizes)
    expect(code).toBe(0)
    expect(out).toContain('80.00 × 45.00 × 120.00 mm')
    const [, apart] = /Corners +close within ([\d.]+) mm/.exec(out)!
    expect(Number(apart)).toBeLessThanOrEqual(0.8)
    expect(out).toMatch(/glue flap +15\.00 +\d+\.\d+ +back/)
    expect(out).toMatch(/lastShortMm +0\.40 +mm +derived/)
  })

  test('an allowance is set by its name, and the code is kept as it is given', async () => {
    const wide = await made(
      '--style',
      'sleeve',
      ...sizes,
      '--set',
      'glueMm=12, lastShortMm=0.5',
      '--code',
      'Comet 7',
    )
    expect([wide.glue, wide.panelWidths[3], wide.code]).toEqual([12, 44.1, 'Comet 7'])
  })

  test('a tuck for a sleeve is said, and changes nothing', async () => {
    const plain = await made('--style', 'sleeve', ...sizes)
    const { code, out, err } = await runCli('carton', '--style', 'sleeve', ...sizes, '--tuck', '16', '--json')
    expect(code).toBe(0)
    expect(err).toMatch(/^Note: tuck: 16 mm is set, and .* has no use for it.*\. Leave it out/)
    const told = JSON.parse(out) as CartonJson & { readonly findings: readonly { readonly code: string }[] }
    expect(told.findings.map(one => one.code)).toEqual(['carton-setting-idle'])
    expect([told.blank, told.panels]).toEqual([plain.blank, plain.panels])
  })

  test.each(cartonStyles)('$name: JSON has what the help says, left to right', async ({ name }) => {
    const { panelWidths, glue, blank, panels } = await made('--style', name, ...sizes, '--glue', '14')
    const round = 1e-4
    const span = (panel: string, axis: 0 | 1) => {
      const values = panels.find(one => one.name === panel)!.outline.map(at => at[axis])
      return [Math.min(...values), Math.max(...values)] as const
    }
    const walls = ['back', 'left side', 'front', 'right side'] as const
    const [left] = span('back', 0)
    expect([glue, left]).toEqual([14, 14])
    for (const [i, wall] of walls.entries()) {
      const [from, to] = span(wall, 0)
      expect(Math.abs(to - from - panelWidths[i]!)).toBeLessThanOrEqual(2 * round)
      expect(
        Math.abs(from - panelWidths.slice(0, i).reduce((sum, one) => sum + one, 14)),
      ).toBeLessThanOrEqual(5 * round)
    }
    // The blank is the box around all panels.
    for (const axis of [0, 1] as const) {
      const all = panels.flatMap(panel => span(panel.name, axis))
      expect(Math.min(...all)).toBe(0)
      expect(Math.max(...all)).toBe(blank[axis])
    }
  })

  test('SVG: true size in mm, kinds of line as groups', async () => {
    const file = join(folder, 'die.svg')
    const { code, err } = await runCli('carton', '--style', 'crash-lock', ...sizes, '--svg', file)
    expect(code).toBe(0)
    expect(err).toContain(file)
    const svg = readFileSync(file, 'utf8')
    for (const id of ['cut', 'crease', 'glue', 'bleed']) expect(svg).toContain(`<g id="${id}"`)
    const [, width, , box] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+)/.exec(svg)!
    // 15 + 79.2 + 44.6 + 79.6 + 44.2, and 3 mm of bleed on both sides.
    expect(Number(width)).toBeCloseTo(262.6 + 6, 2)
    expect(box).toBe(width)
  })

  test('a drawn die is a good die for check-die', async () => {
    const file = join(folder, 'checked.svg')
    await runCli('carton', '--style', 'snap-lock', ...sizes, '--svg', file)
    const { code, out } = await runCli('check-die', file)
    expect(code).toBe(0)
    expect(out).not.toMatch(/error/)
  })

  const wrong: readonly [string, readonly string[], number, RegExp][] = [
    ['no such style', ['--style', 'cube', ...sizes], 2, /--style: expected straight-tuck, .* got "cube"/],
    [
      'a size of two numbers',
      ['--style', 'sleeve', '--size', '80x45', ...sizes.slice(2)],
      2,
      /--size: expected LxWxH/,
    ],
    [
      'no such measure',
      ['--style', 'sleeve', ...sizes.slice(0, 3), 'about', ...sizes.slice(4)],
      2,
      /--measure/,
    ],
    [
      'an unknown allowance',
      ['--style', 'sleeve', ...sizes, '--set', 'flapMm=3'],
      2,
      /--set: expected NAME=NUMBER/,
    ],
    [
      'one given twice',
      ['--style', 'sleeve', ...sizes, '--glue', '12', '--set', 'glueMm=13'],
      2,
      /given twice/,
    ],
    [
      'a negative width',
      ['--style', 'sleeve', '--size', '80x-45x120', ...sizes.slice(2)],
      1,
      /width: expected more than 0/,
    ],
    [
      'a negative glue flap',
      ['--style', 'sleeve', ...sizes, '--glue=-5'],
      1,
      /glue flap: expected 4 to 60 mm, got -5/,
    ],
    [
      'a negative flap by its name',
      ['--style', 'seal-end', ...sizes, '--set', 'sealInnerMm=-20'],
      1,
      /inner seal flap: expected 5 to 300 mm, got -20/,
    ],
    [
      'a tuck too deep',
      ['--style', 'straight-tuck', ...sizes, '--tuck', '60'],
      1,
      /tuck: it is 60 mm deep.*Set the tuck to/,
    ],
  ]
  test.each(wrong)('%s', async (_, args, exit, message) => {
    const { code, out, err } = await runCli('carton', ...args)
    expect([code, out]).toEqual([exit, ''])
    expect(err).toMatch(message)
  })
})
