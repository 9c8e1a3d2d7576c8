import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { panelOf } from '../../../core/carton/blank.ts'
import { type Carton, cartonOf } from '../../../core/carton/carton.ts'
import { closings } from '../../../core/carton/closure.ts'
import { measured } from '../../../core/carton/measure.ts'
import { cartonStyles } from '../../../core/carton/style.ts'
import { Leaves } from './leaves.ts'
import { anySize, eachMeasure } from './sizes.ts'

/** Sizes of a style, the same ones in every run. */
const sizes = 500
const seed = 20260412

/** Amounts of the slider at which the first way of measuring is tried, beside one drawn for each size. */
const amounts = [0, 0.25, 0.5, 0.75, 1]

// Folding is a rigid motion in double precision of lengths up to 1 m: nothing else may come between asked and measured.
const exact = 1e-9

/** The second panel along the body. */
function sideHeight({ blank }: Carton): number {
  const ys = panelOf(blank, 'left side').outline.map(([, y]) => y)
  return Math.max(...ys) - Math.min(...ys)
}

describe.each(cartonStyles)('$name', style => {
  test(`${sizes} sizes, three ways of measuring: closed within two calipers, no leaf in another`, () => {
    const between = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(anySize(style.name), between, (size, amount) => {
        for (const measure of eachMeasure) {
          const made = cartonOf({ ...style, ...size, measure, own: {}, code: '' })
          const { caliperMm, lengthMm, widthMm, heightMm } = size
          for (const { name, apartMm } of closings(made))
            if (!(apartMm <= 2 * caliperMm)) throw new Error(`${name}: ${apartMm / caliperMm} calipers apart`)
          const leaves = new Leaves(made.blank)
          for (const at of measure === 'outside' ? [...amounts, amount] : [1]) {
            const passing = leaves.passing(at)
            if (passing.length > 0) throw new Error(`${measure} at ${at}: ${passing.join(', ')}`)
          }
          // Of one size in ten the drawing too: one piece of board, so one line of bleed around it.
          if (measure === 'crease' && amount < 0.1) expect(made.blank.die.bleed).toHaveLength(1)
          const solid = measured(made.blank)
          const [back, left, front, right] = made.panelWidths
          const found = measure === 'crease' ? [back, left, sideHeight(made)] : solid[measure]
          for (const [i, asked] of [lengthMm, widthMm, heightMm].entries())
            if (!(Math.abs(found[i]! - asked) <= exact))
              throw new Error(`${measure}: asked ${asked}, measured ${found[i]}`)
          // Girth: what goes round is the blank's width; around the middle of the board twice length and width and a caliper, less what the last panel is short.
          expect(Math.abs(made.allow.glueMm + back + left + front + right - made.blank.widthMm)).toBeLessThan(
            exact,
          )
          const around = 2 * (solid.outside[0] - 1.5 * caliperMm + solid.outside[1] - caliperMm)
          expect(Math.abs(back + left + front + right - (around - made.allow.lastShortMm))).toBeLessThan(
            exact,
          )
        }
      }),
      { numRuns: sizes, seed },
    )
  }, 300_000)
})
