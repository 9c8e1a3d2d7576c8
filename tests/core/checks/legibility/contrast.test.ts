import { describe, expect, test } from 'vitest'
import { contrastRatio, relativeLuminance, sumContrast } from '../../../../core/checks/legibility/contrast.ts'
import { type HeldView, tiltOf } from '../../../../core/checks/legibility/view.ts'
import { held, usualScene } from './fixture.ts'

const grey = (code: number) => relativeLuminance([code / 255, code / 255, code / 255] as const)
const white = grey(255)
/** WCAG 2.2 adds 0.05. */
const screen = 0.05

describe('the contrast ratio', () => {
  // Formula and flare: WCAG 2.2, "contrast ratio" and "relative luminance"; values worked from it to the digits shown.
  test('of black on white is 21', () => expect(contrastRatio(grey(0), white, screen)).toBeCloseTo(21, 6))
  test('of the greys to either side of 4.5 on white', () => {
    expect(contrastRatio(grey(0x76), white, screen)).toBeCloseTo(4.5422, 4)
    expect(contrastRatio(white, grey(0x77), screen)).toBeCloseTo(4.4781, 4)
  })
  test('of silver on white', () => expect(contrastRatio(grey(0xc0), white, screen)).toBeCloseTo(1.8194, 4))
  test('is made from the relative luminance of grey 128', () => expect(grey(0x80)).toBeCloseTo(0.215861, 5))
  test('without flare is the plain ratio, and more flare never raises it', () => {
    expect(contrastRatio(0.02, 0.8, 0)).toBeCloseTo(40, 9)
    const ratios = [0, 0.02, 0.05, 0.2].map(flare => contrastRatio(0.02, 0.8, flare))
    expect(ratios).toEqual([...ratios].sort((a, b) => b - a))
  })
})

describe('the sum over views', () => {
  const view = (tilt: number, weight: number): HeldView => ({
    pose: held(tilt, 0),
    light: usualScene.light,
    weight,
  })
  const by = { limit: 4.5, flare: 0, drawn: null }

  test('weighs views: least, percentile, below and reversed', () => {
    const views = [view(0, 10), view(20, 6), view(20, 2), view(-20, 0.9), view(40, 1.1)]
    const ink = [0.05, 0.1, 0.1, 0.5, 0.2]
    const ground = [0.9, 0.9, 0.3, 0.1, 0.25]
    // Ratios 18, 9, 3, 5 the other way, 1.25; by rising ratio the weights are 1.1, 2, 0.9, 6, 10 of 20.
    const sum = sumContrast(views, ink, ground, by)!
    expect(sum.least).toBeCloseTo(1.25, 9)
    expect(sum.worst).toBe(4)
    expect(sum.below).toBeCloseTo(3.1 / 20, 9)
    expect(sum.reversed).toBeCloseTo(0.9 / 20, 9)
    expect(sum.drawn).toBe('darker')
    // 1.1 of 20 is over 5 %, so the worst view alone is the fifth percentile.
    expect(sum.fifthPercentile).toBeCloseTo(1.25, 9)
    expect(sum.curve.map(one => one.tiltDeg)).toEqual([0, 20, 40])
    const twenty = sum.curve[1]!
    expect(twenty.least).toBeCloseTo(3, 9)
    expect(twenty.below).toBeCloseTo(2 / 8.9, 9)
    expect(Math.log(twenty.mean)).toBeCloseTo(
      (6 * Math.log(9) + 2 * Math.log(3) + 0.9 * Math.log(5)) / 8.9,
      9,
    )
  })

  test('takes the side that was drawn, not the one that is seen most', () => {
    const views = [view(0, 1), view(10, 3)]
    const sum = sumContrast(views, [0.1, 0.9], [0.9, 0.1], { ...by, drawn: 'darker' })!
    expect(sum.reversed).toBeCloseTo(0.75, 9)
    expect(sumContrast(views, [0.1, 0.9], [0.9, 0.1], by)!.reversed).toBeCloseTo(0.25, 9)
  })

  test('leaves out what is not seen, and is null where nothing is', () => {
    const views = [view(0, 1), view(10, 1)]
    expect(sumContrast(views, [Number.NaN, 0.1], [0.5, 0.8], by)!.least).toBeCloseTo(8, 9)
    expect(sumContrast(views, [Number.NaN, Number.NaN], [0.5, 0.8], by)).toBeNull()
  })
})

test('tilt is the angle of the normal from straight-on', () => {
  expect(tiltOf(held(-30, 70))).toBeCloseTo(30, 9)
  expect(tiltOf(held(45, 0, 45))).toBeCloseTo(60, 9)
})
