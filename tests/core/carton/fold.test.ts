import { expect, test } from 'vitest'
import type { Blank } from '../../../core/carton/blank.ts'
import { degreesAt, fold, placed } from '../../../core/carton/fold.ts'

/** Two squares of 10 mm side by side, and a third over the second one. */
const strip: Blank = {
  widthMm: 20,
  heightMm: 20,
  caliperMm: 0.4,
  root: 'left',
  panels: [
    {
      name: 'left',
      outline: [
        [0, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ],
    },
    {
      name: 'right',
      outline: [
        [10, 0],
        [20, 0],
        [20, 10],
        [10, 10],
      ],
    },
    {
      name: 'top',
      outline: [
        [10, 10],
        [20, 10],
        [20, 20],
        [10, 20],
      ],
    },
  ],
  hinges: [
    {
      name: 'second',
      parent: 'right',
      child: 'top',
      from: [20, 10],
      to: [10, 10],
      closedDeg: 90,
      begins: 0.5,
      ends: 1,
    },
    {
      name: 'first',
      parent: 'left',
      child: 'right',
      from: [10, 0],
      to: [10, 10],
      closedDeg: 90,
      begins: 0,
      ends: 0.5,
    },
  ],
  die: { lines: [], glue: [], bleed: [] },
}

const near = (found: readonly number[], expected: readonly number[]) => {
  for (const [i, value] of expected.entries()) expect(found[i]).toBeCloseTo(value, 12)
}

test('amount 0 leaves the board where it lies', () => {
  for (const placing of fold(strip, 0).values()) {
    near(placing.turn, [1, 0, 0, 0, 1, 0, 0, 0, 1])
    near(placing.shift, [0, 0, 0])
  }
})

test('a fold turns away from the print side, about the middle of the board', () => {
  // By hand: the axis is x = 10, z = −0.2; the far edge comes 10 mm under it, 0.2 mm to the right of it.
  near(placed(fold(strip, 0.5).get('right')!, 20, 5, 0), [10.2, 5, -10.2])
  near(placed(fold(strip, 0.5).get('right')!, 20, 5, -0.4), [9.8, 5, -10.2])
})

test('a hinge is carried by its parent, in whatever order hinges are listed', () => {
  // By hand: the top turns about y = 10 of the standing panel, toward the left panel's side.
  near(placed(fold(strip, 1).get('top')!, 10, 20, -0.2), [0, 10, -0.2])
  near(placed(fold(strip, 1).get('top')!, 20, 20, -0.2), [0, 10, -10.2])
})

test('the order of a crease’s ends does not matter', () => {
  const turned: Blank = {
    ...strip,
    hinges: strip.hinges.map(one => ({ ...one, from: one.to, to: one.from })),
  }
  for (const [name, { turn, shift }] of fold(strip, 0.7)) {
    near(fold(turned, 0.7).get(name)!.turn, turn)
    near(fold(turned, 0.7).get(name)!.shift, shift)
  }
})

test('degrees of one’s own take a hinge off the slider', () => {
  near(placed(fold(strip, 0, { first: 180 }).get('right')!, 20, 5, 0), [0, 5, -0.4])
})

test('between its stops a hinge turns evenly', () => {
  const hinge = {
    ...strip.hinges[0]!,
    via: [
      { amount: 0.6, deg: 120 },
      { amount: 0.8, deg: 100 },
    ],
  }
  const way: readonly [number, number][] = [
    [0.2, 0],
    [0.5, 0],
    [0.55, 60],
    [0.6, 120],
    [0.7, 110],
    [0.9, 95],
    [1, 90],
  ]
  for (const [amount, deg] of way) expect(degreesAt(hinge, amount)).toBeCloseTo(deg, 9)
})

test('a loop and a stray panel are refused', () => {
  const [second, first] = strip.hinges
  expect(() => fold({ ...strip, hinges: [first!] }, 1)).toThrow(/every panel/)
  const back = { ...first!, name: 'back', parent: 'top', child: 'left' }
  expect(() => fold({ ...strip, hinges: [first!, second!, back] }, 1)).toThrow(/loop/)
})
