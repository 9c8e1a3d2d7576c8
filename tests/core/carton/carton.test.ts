import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import type { Blank } from '../../../core/carton/blank.ts'
import { cartonOf } from '../../../core/carton/carton.ts'
import { fold, placed } from '../../../core/carton/fold.ts'
import { measured } from '../../../core/carton/measure.ts'
import { signedArea } from '../../../core/carton/outline.ts'
import { readDie } from '../../../core/carton/read/read-die.ts'
import { readSvg } from '../../../core/carton/read/svg.ts'
import { type Allowances, settingKeys, settings } from '../../../core/carton/settings.ts'
import type { CartonSpec, Measure } from '../../../core/carton/spec.ts'
import { cartonStyles, type StyleName, styleNamed } from '../../../core/carton/style.ts'
import { dieSvg } from '../../../core/carton/svg-out.ts'
import { Leaves } from './leaves.ts'

const spec = (style: StyleName, more: Partial<CartonSpec> = {}): CartonSpec => ({
  ...styleNamed(style)!,
  lengthMm: 80,
  widthMm: 45,
  heightMm: 120,
  measure: 'outside',
  caliperMm: 0.4,
  own: {},
  code: '',
  ...more,
})

describe('sums from the caliper, by hand', () => {
  // Walls half a caliper to each side of their creases; the right side lies a caliper outside the glue flap.
  test('a reverse tuck measured outside: 2 and 1 calipers less on length and width, inside 3, 2 and 4 less', () => {
    const made = cartonOf(spec('reverse-tuck'))
    const expected = [80 - 0.8, 45 - 0.4, 80 - 0.4, 45 - 0.8]
    for (const [i, width] of made.panelWidths.entries()) expect(width).toBeCloseTo(expected[i]!, 9)
    const { inside } = measured(made.blank)
    for (const [i, size] of [80 - 1.2, 45 - 0.8, 120 - 1.6].entries()) expect(inside[i]).toBeCloseTo(size, 9)
  })

  test('slack is added to an inside length and width', () => {
    const { inside } = measured(cartonOf(spec('sleeve', { measure: 'inside', own: { slackMm: 0.8 } })).blank)
    for (const [i, size] of [80.8, 45.8, 120].entries()) expect(inside[i]).toBeCloseTo(size, 9)
  })

  test('ends are free to be paired: a lid above a glued bottom', () => {
    const mixed = spec('straight-tuck', {
      top: { kind: 'tuck', on: 'front', rule: 'perforation' },
      bottom: { kind: 'seal', on: 'front' },
    })
    const { blank } = cartonOf(mixed)
    for (const [i, size] of [80, 45, 120].entries()) expect(measured(blank).outside[i]).toBeCloseTo(size, 9)
    expect(blank.die.lines.filter(line => line.kind === 'perforation')).toHaveLength(1)
    for (const amount of [0, 0.25, 0.5, 0.75, 1]) expect(new Leaves(blank).passing(amount)).toEqual([])
  })
})

describe.each(cartonStyles)('$name', ({ name }) => {
  const { blank } = cartonOf(spec(name))

  test('fold 0 is the dieline: every leaf where its outline is drawn', () => {
    for (const placing of fold(blank, 0).values())
      expect(placed(placing, 12.5, 7.25, 0)).toEqual([12.5, 7.25, 0])
    const drawn = blank.die.lines.flatMap(line => line.points)
    for (const { outline } of blank.panels)
      for (const [x, y] of outline) expect(distanceToLines(blank, x, y)).toBeLessThan(1e-6)
    expect(Math.max(...drawn.map(([x]) => x))).toBeCloseTo(blank.widthMm, 9)
    expect(Math.max(...drawn.map(([, y]) => y))).toBeCloseTo(blank.heightMm, 9)
    expect(Math.min(...drawn.flat())).toBeCloseTo(0, 9)
  })

  test('panels run counter-clockwise, do not overlap, and print comes outside', () => {
    for (const { outline } of blank.panels) expect(signedArea(outline)).toBeGreaterThan(0)
    expect(new Leaves(blank).passing(0)).toEqual([])
    const turn = fold(blank, 1)
    const outward = (panel: string) => [2, 5, 8].map(i => Math.round(turn.get(panel)!.turn[i]!) + 0)
    expect(['front', 'right side', 'back', 'left side'].map(outward)).toEqual([
      [0, 0, 1],
      [1, 0, 0],
      [0, 0, -1],
      [-1, 0, 0],
    ])
  })

  test('finely between flat and closed no leaf is in another', () => {
    const leaves = new Leaves(blank)
    for (let step = 0; step <= 60; step++) expect([step, leaves.passing(step / 60)]).toEqual([step, []])
  })

  test('the reader of dielines makes the same panels of the drawing', () => {
    const reading = readDie(readSvg(new TextEncoder().encode(dieSvg(blank, name)), 'die.svg'), {
      caliperMm: 0.4,
    })
    expect(reading.findings.filter(finding => finding.severity === 'error')).toEqual([])
    expect(reading.blank?.panels).toHaveLength(blank.panels.length)
    expect(reading.blank?.hinges).toHaveLength(blank.hinges.length)
    const areas = (one: Blank) => one.panels.map(panel => signedArea(panel.outline)).sort((a, b) => a - b)
    // The drawing is rounded to 0.001 mm: over an outline of 400 mm that is 0.4 mm² at most.
    for (const [i, area] of areas(reading.blank!).entries())
      expect(Math.abs(area - areas(blank)[i]!)).toBeLessThan(0.4)
  })

  test('bleed surrounds the cut by as much as is set', () => {
    const [outline, ...more] = blank.die.bleed
    expect(more).toEqual([])
    const xs = outline!.map(([x]) => x)
    expect(Math.min(...xs)).toBeCloseTo(-3, 2)
    expect(Math.max(...xs)).toBeCloseTo(blank.widthMm + 3, 2)
  })
})

describe('the test of leaves', () => {
  test('finds a tongue that is bent squarely from the start: it goes through the front', () => {
    const { blank } = cartonOf(spec('straight-tuck'))
    const square = blank.hinges.map(hinge => {
      if (!hinge.name.endsWith('tongue')) return hinge
      const { via: _, ...rest } = hinge
      return { ...rest, ends: 0.7 }
    })
    const found = [0.9, 0.95, 0.97, 0.99].flatMap(amount =>
      new Leaves({ ...blank, hinges: square }).passing(amount),
    )
    expect(found).toContain('front in top tongue')
  })

  test('finds a glue flap that is left on the same crease as the side it lies on', () => {
    const { blank } = cartonOf(spec('sleeve'))
    const shifted = { ...blank, caliperMm: 0.6 }
    expect(new Leaves(shifted).passing(1)).toEqual(['glue flap in right side'])
  })
})

describe('allowances', () => {
  test('each is inside its own range for a usual carton, and says where it is from', () => {
    const { allow } = cartonOf(spec('straight-tuck'))
    for (const key of settingKeys) {
      const [least, most] = settings[key].range
      expect(allow[key]).toBeGreaterThanOrEqual(least)
      expect(allow[key]).toBeLessThanOrEqual(most)
      expect(settings[key].source).not.toBe('')
    }
  })

  test('what is set is drawn', () => {
    const made = cartonOf(spec('straight-tuck', { own: { glueMm: 12, tuckMm: 14 } }))
    expect(made.blank.panels[0]!.outline.some(([x]) => Math.abs(x) < 1e-9)).toBe(true)
    expect(made.blank.widthMm).toBeCloseTo(12 + 79.2 + 44.6 + 79.6 + 44.2, 9)
  })

  test('the code is a label: nothing follows from it', () => {
    expect(cartonOf(spec('sleeve', { code: 'Comet 7' })).blank).toEqual(cartonOf(spec('sleeve')).blank)
  })
})

describe('sizes that cannot be made are refused by number and with a way out', () => {
  const cases: readonly [string, StyleName, Partial<CartonSpec>, RegExp][] = [
    ['a negative width', 'sleeve', { widthMm: -45 }, /width: expected more than 0.*got -45/],
    ['a negative flap', 'straight-tuck', { own: { dustMm: -5 } }, /dust flap.*: expected .* mm, got -5/],
    ['not a number', 'sleeve', { lengthMm: Number.NaN }, /length: expected more than 0/],
    ['board as thick as wood', 'sleeve', { caliperMm: 12 }, /caliper: expected 0.1 to 3 mm, got 12/],
    [
      'board too thick for the width',
      'snap-lock',
      { widthMm: 14, caliperMm: 2 },
      /caliper: a board of 2 mm is too thick .* Make the carton wider or the board thinner/,
    ],
    [
      'a tongue deeper than its lid',
      'straight-tuck',
      { own: { tuckMm: 60 } },
      /tuck: it is 60 mm deep.*Set the tuck to 39/,
    ],
    [
      'tongues that meet inside',
      'straight-tuck',
      { heightMm: 30, own: { tuckMm: 18 } },
      /height: tongues along the front need/,
    ],
    [
      'dust flaps that overlap',
      'straight-tuck',
      { own: { dustMm: 60 } },
      /dust flaps: each is 60 mm deep.*overlap/,
    ],
    [
      'a glue flap wider than its side',
      'sleeve',
      { own: { glueMm: 50 } },
      /glue flap: it is 50 mm wide.*Set it to 43/,
    ],
    [
      'a seal flap deeper than the carton',
      'seal-end',
      { own: { sealInnerMm: 70 } },
      /inner seal flap: it is 70 mm/,
    ],
    [
      'a square crash-lock bottom',
      'crash-lock',
      { widthMm: 80 },
      /crash-lock bottom .* no room for its pads/,
    ],
    [
      'a crash-lock overlap that reaches the wall',
      'crash-lock',
      { own: { crashOverlapMm: 30 } },
      /overlap: the flaps go 30 mm past the middle.*Set it to 21/,
    ],
    [
      'an allowance out of its range',
      'sleeve',
      { own: { bleedMm: 90 } },
      /bleed: expected 0 to 20 mm, got 90/,
    ],
    [
      'an allowance that is no number',
      'sleeve',
      { own: { glueMm: Number.NaN } satisfies Partial<Allowances> },
      /glue flap: expected 4 to 60/,
    ],
  ]
  test.each(cases)('%s', (_, style, more, message) => {
    const attempt = () => cartonOf(spec(style, more))
    expect(attempt).toThrow(BadInput)
    expect(attempt).toThrow(message)
  })

  test('measured inside or by creases they are refused too, never drawn inside out', () => {
    for (const measure of ['outside', 'inside', 'crease'] satisfies readonly Measure[])
      expect(() => cartonOf(spec('straight-tuck', { measure, widthMm: 3 }))).toThrow(BadInput)
  })
})

/** From a place to the nearest line of the die, mm. */
function distanceToLines({ die }: Blank, x: number, y: number): number {
  let nearest = Infinity
  for (const { points } of die.lines)
    for (let i = 0; i + 1 < points.length; i++) {
      const [[ax, ay], [bx, by]] = [points[i]!, points[i + 1]!]
      const [dx, dy] = [bx - ax, by - ay]
      const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)))
      nearest = Math.min(nearest, Math.hypot(x - ax - t * dx, y - ay - t * dy))
    }
  return nearest
}
