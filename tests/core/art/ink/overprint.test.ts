import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { FillMark, InkBlend, Mark } from '../../../../core/art/ink/mark.ts'
import { at, clip, fill, group, paintMm, rect, tints } from '../../../support/ink-page.ts'

const all = rect(0, 0, 4, 4)
const lay = (amounts: Record<number, number>, more: Partial<FillMark> = {}) => fill(all, tints(amounts), more)
/** Amounts of C, M, Y, K, White, Foil and the shape, rounded to bytes. */
const result = (...marks: Mark[]) => at(paintMm(4, 4, marks), 1, 1)
function expectNear(got: readonly number[], wanted: readonly number[]): void {
  expect(got.length).toBe(wanted.length)
  got.forEach((value, k) => {
    expect(Math.abs(value - wanted[k]!), `plane ${k} of ${got}`).toBeLessThanOrEqual(0.5001 / 255)
  })
}

describe('overprint and knock-out, ISO 32000-2, 11.7.4.3', () => {
  const below = lay({ 0: 0.2, 3: 0.4, 4: 1 })

  test('an ink that is not painted is knocked out', () => {
    expectNear(result(below, lay({ 1: 0.6 })), [0, 0.6, 0, 0, 0, 0, 1])
  })
  test('under overprint it stays', () => {
    expectNear(result(below, lay({ 1: 0.6 }, { overprint: true })), [0.2, 0.6, 0, 0.4, 1, 0, 1])
  })
  test('an ink that is painted with nothing is replaced either way', () => {
    expectNear(result(below, lay({ 4: 0 }, { overprint: true })), [0.2, 0, 0, 0.4, 0, 0, 1])
  })
  test('no ink at all knocks out everything, or nothing', () => {
    expectNear(result(below, lay({})), [0, 0, 0, 0, 0, 0, 1])
    expectNear(result(below, lay({}, { overprint: true })), [0.2, 0, 0, 0.4, 1, 0, 1])
  })
  test('at part opacity an ink under overprint is left whole, a knocked-out one in part', () => {
    expectNear(result(below, lay({ 1: 0.6 }, { overprint: true, alpha: 0.5 })), [0.2, 0.3, 0, 0.4, 1, 0, 1])
    expectNear(result(below, lay({ 1: 0.6 }, { alpha: 0.5 })), [0.1, 0.3, 0, 0.2, 0.5, 0, 1])
  })
  test('in an isolated group it keeps what lies in the group, and the group knocks out what lies below', () => {
    const inside = [lay({ 2: 0.5 }), lay({ 1: 0.6 }, { overprint: true })]
    expectNear(result(below, group(inside, { isolated: true })), [0, 0.6, 0.5, 0, 0, 0, 1])
  })
  test('in a group that is not isolated it keeps what lies below the group too', () => {
    const inside = [lay({ 1: 0.6 }, { overprint: true })]
    for (const more of [{}, { alpha: 0.5 }]) {
      const shade = more.alpha ?? 1
      expectNear(result(below, group(inside, more)), [0.2, 0.6 * shade, 0, 0.4, 1, 0, 1])
    }
  })
  test('with another blend mode it counts as a group of its own, whose unpainted inks are those below', () => {
    // Multiply of 0.2 with itself: 1 − 0.8 · 0.8; of 0.4: 1 − 0.6 · 0.6.
    expectNear(
      result(below, lay({ 1: 0.6 }, { overprint: true, blend: 'multiply' })),
      [0.36, 0.6, 0, 0.64, 1, 0, 1],
    )
    const wrapped = group([lay({ 1: 0.6 }, { overprint: true })], { blend: 'multiply' })
    expectNear(result(below, wrapped), [0.36, 0.6, 0, 0.64, 1, 0, 1])
  })
})

describe('blend modes', () => {
  // Ink is 1 − light; two tints of ink, by the formulas of ISO 32000-2, 11.3.5.2, worked by hand.
  const cases: readonly [InkBlend, number][] = [
    ['normal', 0.3],
    ['multiply', 1 - 0.6 * 0.7],
    ['screen', 1 - (0.6 + 0.7 - 0.42)],
    ['darken', 0.4],
    ['lighten', 0.3],
    // Hard light of backdrop 0.6 over source 0.7 exchanged: 0.6 > 0.5, screen with 2 · 0.6 − 1.
    ['overlay', 1 - (0.7 + 0.2 - 0.14)],
    ['hardLight', 1 - (0.6 + 0.4 - 0.24)],
    ['colorDodge', 0],
    ['colorBurn', 1 - (1 - 0.4 / 0.7)],
    ['difference', 1 - 0.1],
    ['exclusion', 1 - (0.6 + 0.7 - 2 * 0.42)],
    // D(0.6) = √0.6.
    ['softLight', 1 - (0.6 + 0.4 * (Math.sqrt(0.6) - 0.6))],
  ]
  test.each(cases)('%s of one process ink', (blend, amount) => {
    expectNear(result(lay({ 1: 0.4 }), lay({ 1: 0.3 }, { blend })).slice(1, 2), [amount])
  })

  test('spot inks know only those that keep white white (11.7.4.2)', () => {
    expectNear(result(lay({ 4: 0.4 }), lay({ 4: 0.3 }, { blend: 'multiply' })).slice(4, 5), [0.58])
    for (const blend of ['difference', 'exclusion', 'hue', 'luminosity'] as const)
      expectNear(result(lay({ 4: 0.4 }), lay({ 4: 0.3 }, { blend })).slice(4, 5), [0.3])
  })

  test('on nothing at all a mode gives the source', () => {
    expectNear(result(lay({ 1: 0.3 }, { blend: 'screen' })), [0, 0.3, 0, 0, 0, 0, 1])
  })

  test('whole-colour modes take black from the backdrop, luminosity from the source (11.3.5.3)', () => {
    const below = lay({ 0: 0.5, 3: 0.25 })
    const above = (blend: InkBlend) => lay({ 0: 0.2, 1: 0.2, 2: 0.2, 3: 0.75 }, { blend })
    expect(result(below, above('color'))[3]).toBeCloseTo(0.25, 2)
    expect(result(below, above('luminosity'))[3]).toBeCloseTo(0.75, 2)
    // The colour of grey over cyan 0.5 (light 0.5, 1, 1, whose luminosity is 0.85): grey of that luminosity.
    expectNear(result(below, above('color')).slice(0, 3), [0.15, 0.15, 0.15])
  })
})

describe('groups, worked by hand (ISO 32000-2, 11.4)', () => {
  test('what is fully covered by its opacity: two halves in a group at half', () => {
    // In the group: C = 0.5 over 0.5 of solid: αg = 0.75, αg C = 0.75; laid with 0.5: 0.375.
    const half = lay({ 1: 1 }, { alpha: 0.5 })
    expectNear(result(group([half, half], { alpha: 0.5, isolated: true })), [0, 0.375, 0, 0, 0, 0, 0.375])
  })

  test('a mode inside meets the backdrop only where the group is not isolated', () => {
    const below = lay({ 1: 0.4 })
    const inside = [lay({ 1: 0.3 }, { blend: 'multiply' })]
    expectNear(result(below, group(inside, { isolated: true })).slice(1, 2), [0.3])
    expectNear(result(below, group(inside)).slice(1, 2), [0.58])
    // At half the group: half way from the backdrop to that.
    expectNear(result(below, group(inside, { alpha: 0.5 })).slice(1, 2), [0.49])
  })

  test('in a knock-out group the uppermost mark alone is seen', () => {
    const marks = [lay({ 1: 1 }, { alpha: 0.5 }), lay({ 2: 1 }, { alpha: 0.25 })]
    expectNear(result(group(marks, { knockout: true, isolated: true })), [0, 0, 0.25, 0, 0, 0, 0.25])
    // Not isolated, over solid cyan: 0.25 of yellow over it.
    expectNear(result(lay({ 0: 1 }), group(marks, { knockout: true })), [0.75, 0, 0.25, 0, 0, 0, 1])
  })

  test('a mark that covers half a pixel knocks out half of what lies below it in its group', () => {
    const marks = [
      fill(rect(0, 0, 4, 4), tints({ 1: 1 })),
      fill(rect(0, 0, 0.5, 4), tints({ 2: 1 }), { alpha: 0.5 }),
    ]
    const [, m, y, , , , shape] = at(paintMm(4, 4, [group(marks, { knockout: true, isolated: true })]), 0, 0)
    expectNear([m!, y!, shape!], [0.5, 0.25, 0.75])
  })

  test('alpha that counts as shape leaves in a knock-out group what it does not cover', () => {
    // 11.4.8 with fs = αs = 0.5: half of what lies there so far, and half of the mark.
    const over = lay({ 1: 0.6 }, { alpha: 0.5, alphaIsShape: true })
    const knocking = group([lay({ 0: 0.8 }), over], { knockout: true, isolated: true })
    expectNear(result(knocking), [0.4, 0.3, 0, 0, 0, 0, 1])
    const plain = group([lay({ 0: 0.8 }), over], { isolated: true })
    expectNear(result(plain), [0.4, 0.3, 0, 0, 0, 0, 1])
    const grouped = group([lay({ 1: 0.6 })], { alpha: 0.5, alphaIsShape: true })
    expectNear(result(group([lay({ 0: 0.8 }), grouped], { knockout: true, isolated: true })), [
      ...[0.4, 0.3, 0, 0, 0, 0, 1],
    ])
  })
  test('a group inside a knock-out group begins on what that began on', () => {
    const marks = [lay({ 1: 1 }), group([lay({ 1: 0.3 }, { blend: 'multiply' })])]
    expectNear(result(lay({ 1: 0.4 }), group(marks, { knockout: true })).slice(1, 2), [0.58])
  })

  test('a group is cut once by a clip that its marks share with it', () => {
    const cut = clip(rect(0, 0, 0.5, 4))
    const inside = [lay({ 1: 1 }, { clip: cut })]
    const planes = paintMm(4, 4, [group(inside, { clip: cut, alpha: 0.5, isolated: true })])
    expectNear(at(planes, 0, 0), [0, 0.25, 0, 0, 0, 0, 0.25])
  })
})

/** Marks of any kind, by chance. */
const anyMark = fc
  .record({
    left: fc.integer({ min: 0, max: 6 }),
    bottom: fc.integer({ min: 0, max: 6 }),
    inks: fc.uniqueArray(fc.integer({ min: 0, max: 5 }), { maxLength: 4 }),
    value: fc.double({ min: 0, max: 1, noNaN: true }),
    alpha: fc.constantFrom(1, 0.5, 0.2),
    overprint: fc.boolean(),
    blend: fc.constantFrom<InkBlend>('normal', 'normal', 'multiply', 'screen', 'difference', 'luminosity'),
  })
  .map(({ left, bottom, inks, value, alpha, overprint, blend }) =>
    fill(
      rect(left + 0.3, bottom, left + 4, bottom + 3.6),
      tints(Object.fromEntries(inks.map((ink, k) => [ink, Math.abs(value - 0.2 * k)]))),
      { alpha, overprint, blend },
    ),
  )
const someMarks = fc.array(anyMark, { minLength: 1, maxLength: 4 })

test('law: a group that is not isolated and changes nothing is its marks, laid one by one', () => {
  // A mask of 1 everywhere keeps the group from being dissolved.
  const full = fill(rect(-9, -9, 19, 19), tints({ 0: 1 }))
  const softMask = { from: 'alpha', marks: [full], clip: null, backdrop: 0, transfer: null } as const
  fc.assert(
    fc.property(someMarks, someMarks, (below, marks) => {
      const apart = paintMm(10, 10, [...below, ...marks])
      const grouped = paintMm(10, 10, [...below, group(marks, { softMask })])
      const planes = [...apart.inks, apart.shape]
      const others = [...grouped.inks, grouped.shape]
      for (const [k, plane] of planes.entries())
        for (const [i, value] of plane.entries()) if (Math.abs(value - others[k]![i]!) > 1) return false
      return true
    }),
    { numRuns: 60 },
  )
})
