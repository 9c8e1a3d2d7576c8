import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Blank } from '../../../../core/carton/blank.ts'
import { cartonBlank } from '../../../../core/carton/carton.ts'
import { degreesAt } from '../../../../core/carton/fold.ts'
import type { DieOptions } from '../../../../core/carton/read/read-die.ts'
import { styleNamed } from '../../../../core/carton/style.ts'
import { Leaves } from '../leaves.ts'
import { anySize, type Size } from '../sizes.ts'
import { readLines, type TestLine } from './drawn.ts'

type Bottom = 'crash-lock' | 'snap-lock'

const made = (size: Size, style: Bottom = 'crash-lock'): Blank =>
  cartonBlank({ ...styleNamed(style)!, ...size, measure: 'outside', own: {}, code: '' })

const eyepiece: Size = { lengthMm: 80, widthMm: 45, heightMm: 120, caliperMm: 0.4 }

/** Steel lines of a die, drawn. */
const drawn = ({ die }: Blank): readonly TestLine[] => die.lines
const mirrored = (lines: readonly TestLine[]): readonly TestLine[] =>
  lines.map(({ kind, points }) => ({ kind, points: points.map(([x, y]) => [300 - x, y] as const) }))

function read(lines: readonly TestLine[], options: Partial<DieOptions> = {}): Blank {
  const { blank, findings } = readLines(lines, options)
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([])
  return blank!
}

const amounts = Array.from({ length: 51 }, (_, i) => i / 50)
const passing = (blank: Blank) => {
  const leaves = new Leaves(blank)
  return amounts.flatMap(amount => leaves.passing(amount).map(pair => `${amount}: ${pair}`))
}

describe.each(['crash-lock', 'snap-lock'] as const)('a %s bottom that is drawn', style => {
  test('30 sizes move as they do when they are made from sizes', () => {
    fc.assert(
      fc.property(anySize(style), size => {
        const blank = made(size, style)
        const again = read(drawn(blank), { caliperMm: size.caliperMm })
        for (const hinge of again.hinges) {
          const own = blank.hinges.find(one => one.name === hinge.name)!
          // What is above the bottom follows rules of thumb where it is drawn.
          if (hinge.name.startsWith('top')) continue
          for (const amount of amounts) {
            const apart = Math.abs(degreesAt(hinge, amount) - degreesAt(own, amount))
            // Places are kept to a few millionths of a millimetre, and the way is steepest where the body is nearly square.
            if (!(apart < 0.01)) throw new Error(`${hinge.name} at ${amount}: ${apart}° apart`)
          }
        }
      }),
      { numRuns: 30, seed: 20261130 },
    )
  })

  test.each([
    ['as it is', (lines: readonly TestLine[]) => lines, {}],
    ['with its glue flap at the right', mirrored, {}],
    ['about its back', (lines: readonly TestLine[]) => lines, { root: 'back' }],
  ])('%s: no leaf in another', (_, way, options) => {
    const blank = read(way(drawn(made(eyepiece, style))), options)
    expect(passing(blank)).toEqual([])
    const rises = blank.hinges.filter(({ closedDeg }) => closedDeg > 90 && closedDeg < 95)
    expect(rises).toHaveLength(style === 'crash-lock' ? 4 : 0)
    // What locks by pads or by a tongue has stops of its own.
    expect(blank.hinges.filter(({ name, via }) => !name.startsWith('top') && via !== undefined)).toHaveLength(
      style === 'crash-lock' ? 10 : 1,
    )
  })
})

describe('a crash-lock bottom that does not square up', () => {
  test('with one pad alone it folds flap by flap', () => {
    const lines = drawn(made(eyepiece))
    const pad = lines.find(({ kind }) => kind === 'reverse-crease')
    const blank = read(lines.filter(line => line !== pad))
    expect(blank.hinges.find(({ name }) => name === 'left side')).toMatchObject({ closedDeg: 90, ends: 0.25 })
  })

  test('with pads that fold at 30° it folds flap by flap', () => {
    const lines = drawn(made(eyepiece)).map((line): TestLine => {
      if (line.kind !== 'reverse-crease') return line
      const [[x, y], [farX, farY]] = line.points as [readonly [number, number], readonly [number, number]]
      const [nearX, nearY, endX] = y > farY ? [x, y, farX] : [farX, farY, x]
      const endY = Math.min(y, farY)
      return {
        ...line,
        points: [
          [nearX, nearY],
          [nearX + (endX - nearX) * 0.55, endY],
        ],
      }
    })
    const blank = read(lines)
    expect(blank.hinges.find(({ name }) => name === 'left side')).toMatchObject({ closedDeg: 90, ends: 0.25 })
  })
})
