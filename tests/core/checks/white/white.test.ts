import { describe, expect, it } from 'vitest'
import type { Blank } from '../../../../core/carton/blank.ts'
import type { CheckFinding } from '../../../../core/checks/finding.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { BleedReader } from '../../../../core/checks/white/bleed.ts'
import { whiteCheck } from '../../../../core/checks/white/check.ts'
import type { MarkedPlace } from '../../../../core/checks/white/guarded.ts'
import { predictedOpacity } from '../../../../core/checks/white/predicted.ts'
import { checkInput } from '../../../support/check-input.ts'
import type { PaintStack } from '../../../support/paint-map.ts'

const red: readonly [number, number, number] = [48, 68, 48]
const sideMm = 40

function input(
  paint: (x: number, y: number) => PaintStack,
  white: { readonly opacity: number; readonly hits: number } = { opacity: 0.9, hits: 1 },
  change: Partial<CheckInput> = {},
): CheckInput {
  return checkInput(
    { size: 80, sideMm, gratings: 0, whites: [white], spots: [red], varnish: false },
    paint,
    change,
  )
}

const run = (given: CheckInput, marks: readonly MarkedPlace[] = []) => whiteCheck(marks).run(given)
const codes = (found: readonly CheckFinding[]) => found.map(({ code }) => code).sort()
const square = (x: number, y: number) => Math.abs(x) < 0.5 && Math.abs(y) < 0.5
const bar: Blank = {
  widthMm: 40,
  heightMm: 40,
  caliperMm: 0.4,
  panels: [
    {
      name: 'front',
      outline: [
        [0, 0],
        [20, 0],
        [20, 40],
        [0, 40],
      ],
    },
    {
      name: 'right',
      outline: [
        [20, 0],
        [40, 0],
        [40, 40],
        [20, 40],
      ],
    },
  ],
  hinges: [
    {
      name: 'front to right',
      parent: 'front',
      child: 'right',
      from: [20, 0],
      to: [20, 40],
      closedDeg: 90,
      begins: 0,
      ends: 1,
    },
  ],
  root: 'front',
  die: { lines: [], glue: [], bleed: [] },
}
const folded = (closedDeg: number): Partial<CheckInput> => ({
  blank: { ...bar, hinges: [{ ...bar.hinges[0]!, closedDeg }] },
  corners: new Map([
    ['front', [0, 0]],
    ['right', [0, 0]],
  ] as const),
})

describe('white', () => {
  it('under all of a brand colour, dense and off the creases, is fine', async () => {
    const good = input((x, y) => (square(x, y) ? { whites: [1], spots: [1] } : {}), {
      opacity: 0.97,
      hits: 1,
    })
    expect(
      await run(good, [
        { name: 'code', kind: 'code', box: { leftMm: 12, rightMm: 28, bottomMm: 12, topMm: 28 } },
      ]),
    ).toEqual([])
  })

  it('that is missing under half of a brand colour is found, with its area', async () => {
    const found = await run(
      input((x, y) => (square(x, y) ? { whites: [x < 0 ? 1 : 0], spots: [1] } : {}), {
        opacity: 0.97,
        hits: 1,
      }),
    )
    expect(codes(found)).toEqual(['white-lacking'])
    expect(found[0]).toMatchObject({ severity: 'warning', measured: { value: 0, unit: '%' } })
    expect(found[0]!.box).toEqual({ leftMm: 20, bottomMm: 10, rightMm: 30, topMm: 30 })
    expect(found[0]!.message).toContain('200 mm²')
    expect(found[0]!.limit).toMatchObject({ key: 'white.fullCoverage', status: 'proposed' })
  })

  it('that lacks under a code fails', async () => {
    const place: MarkedPlace = {
      name: 'EAN',
      kind: 'code',
      box: { leftMm: 10, rightMm: 30, bottomMm: 10, topMm: 30 },
    }
    const found = await run(
      input(() => ({})),
      [place],
    )
    expect(found.map(({ code, severity }) => [code, severity])).toEqual([['white-lacking', 'error']])
  })

  it('that is solid and thin is found', async () => {
    const found = await run(
      input((x, y) => (square(x, y) ? { whites: [1], spots: [1] } : {}), { opacity: 0.6, hits: 1 }),
    )
    expect(codes(found)).toContain('white-thin')
    expect(codes(found)).not.toContain('white-lacking')
    expect(found.find(({ code }) => code === 'white-thin')!.measured).toEqual({ value: 60, unit: '%' })
  })

  it('lets the metal through by its opacity, monotone', () => {
    const differences = [0.3, 0.5, 0.7, 0.9, 1].map(opacity => {
      const { scene, map, sets } = input(() => ({ whites: [1], spots: [0.5] }), { opacity, hits: 1 })
      return new BleedReader(scene, map, sets).at(40, 40)
    })
    for (const [i, { difference }] of differences.entries())
      if (i > 0) expect(difference).toBeLessThan(differences[i - 1]!.difference)
    // The limit of 3 is what a solid of 70 % leaves.
    expect(differences[2]!.difference).toBeCloseTo(3, 0)
    // Behind a perfect white there is no metal.
    expect(differences.at(-1)!.difference).toBeLessThan(0.01)
    for (const { tilted, difference } of differences)
      expect(tilted.difference).toBeGreaterThanOrEqual(0.5 * difference)
  })

  it('bleed is found and says how the colour shifts', async () => {
    const found = await run(
      input((x, y) => (square(x, y) ? { whites: [1], cmyk: [0, 0.3, 0.3, 0] } : {}), {
        opacity: 0.4,
        hits: 1,
      }),
    )
    expect(codes(found)).toContain('metal-bleed')
    expect(found.find(({ code }) => code === 'metal-bleed')!.where).toBe('everything on full white')
  })

  it('that is its own negative is found', async () => {
    const found = await run(
      input((x, y) => (square(x, y) ? { cmyk: [1, 0, 0, 0] } : { whites: [1] }), { opacity: 0.97, hits: 1 }),
    )
    expect(codes(found)).toEqual(['white-inverted'])
    expect(found[0]!.severity).toBe('error')
  })

  it('over a crease that stretches it is found; over one folded towards the print it is not', async () => {
    const stripe = (x: number) => (Math.abs(x) < 0.2 ? { whites: [1] } : {})
    const dense = { opacity: 0.97, hits: 2 }
    expect(codes(await run(input(stripe, dense, folded(90))))).toEqual(['white-over-crease'])
    expect(codes(await run(input(stripe, dense, folded(-90))))).toEqual([])
    const single = { opacity: 0.97, hits: 1 }
    expect(codes(await run(input(stripe, single, folded(90))))).toEqual([])
    expect(codes(await run(input(stripe, single, folded(180))))).toEqual(['white-over-crease'])
  })

  it('limits are the job’s where it has its own', async () => {
    const limits = { 'white.fullOpacity': { value: 50, note: 'Printworks, 3 May' } }
    const thin = input(
      (x, y) => (square(x, y) ? { whites: [1], spots: [1] } : {}),
      { opacity: 0.6, hits: 1 },
      { limits },
    )
    expect(codes(await run(thin))).not.toContain('white-thin')
  })

  it('a job without metal, white or ink has nothing to find', async () => {
    expect(await run(input(() => ({ metal: 0 })))).toEqual([])
  })
})

describe('predicted opacity', () => {
  // ASTM D589 / TAPPI T425 contrast, air surface by Saunderson, two-sheet law: worked values of two hits.
  it.each([
    [0.3, 0.47],
    [0.4, 0.58],
    [0.5, 0.68],
    [0.6, 0.76],
    [0.8, 0.9],
    [0.9, 0.96],
  ])('a white of %f reaches %f with two hits', (one, two) => {
    expect(predictedOpacity([{ opacity: one, hits: 1 }], [1])).toBeCloseTo(one, 4)
    expect(Math.abs(predictedOpacity([{ opacity: one, hits: 2 }], [1]) - two)).toBeLessThan(0.006)
    expect(
      predictedOpacity(
        [
          { opacity: one, hits: 1 },
          { opacity: one, hits: 1 },
        ],
        [1, 1],
      ),
    ).toBeCloseTo(predictedOpacity([{ opacity: one, hits: 2 }], [1]), 6)
  })

  it('half of a perfect white as dots: what the air surface lets back, 0.96, over itself and a chart of 0.89', () => {
    expect(predictedOpacity([{ opacity: 1, hits: 1 }], [0.5])).toBeCloseTo(0.96 / (0.96 + 0.89), 3)
  })

  it('rises with coverage and with hits, of dots and of an even film', () => {
    for (const screen of ['dots', 'even'] as const) {
      const at = (coverage: number, hits: number) =>
        predictedOpacity([{ opacity: 0.55, hits, screen }], [coverage])
      for (const hits of [1, 2, 3]) {
        const all = [0, 0.1, 0.3, 0.5, 0.7, 0.9, 1].map(coverage => at(coverage, hits))
        expect(all).toEqual([...all].sort((a, b) => a - b))
        expect(new Set(all).size).toBe(all.length)
        expect(at(0.5, hits + 1)).toBeGreaterThan(at(0.5, hits))
      }
    }
  })

  it('nothing hides nothing, and dots hide less than the same ink as a film', () => {
    const plate = { opacity: 0.8, hits: 1 } as const
    expect(predictedOpacity([plate], [0])).toBe(0)
    expect(predictedOpacity([plate], [0.5])).toBeLessThan(
      predictedOpacity([{ ...plate, screen: 'even' }], [0.5]),
    )
  })
})
