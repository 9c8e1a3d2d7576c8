import { expect, test } from 'vitest'
import { matterWord } from '../../../../core/checks/sweep/matter-word.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'

const plan: PaintPlan = {
  size: 32,
  sideMm: 64,
  gratings: 0,
  whites: [{ opacity: 0.7, hits: 1 }],
  spots: [],
  varnish: false,
}
const paint = (x: number): PaintStack => (x < 0 ? { whites: [1] } : { cmyk: [0, 0, 0, 0.5] })
const map = paintMap(plan, paint)
/** The left quarter. */
const box = { leftMm: 0, bottomMm: 0, rightMm: 16, topMm: 64 }

test('a word stays while the matter of its box stays, whatever is painted elsewhere', () => {
  const word = matterWord(map, box)
  const elsewhere = paintMap(plan, x => (x < 0.4 ? paint(x) : { cmyk: [1, 0, 0, 0] }))
  expect(matterWord(elsewhere, box)).toBe(word)
  const beyond = { ...box, leftMm: -20, topMm: 90 }
  expect(matterWord(map, beyond)).toBe(word)
  const others = [
    matterWord(map, { ...box, rightMm: 18 }),
    matterWord(map, { ...box, leftMm: 2, rightMm: 18 }),
    matterWord(
      paintMap(plan, () => ({ whites: [0.9] })),
      box,
    ),
    matterWord(
      paintMap(plan, (x, y) => (x < -0.9 && y > 0.9 ? { whites: [1], cmyk: [0, 0, 0.004, 0] } : paint(x))),
      box,
    ),
  ]
  expect(new Set([word, ...others]).size).toBe(1 + others.length)
})
