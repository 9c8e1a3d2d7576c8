import { describe, expect, test } from 'vitest'
import { allPixels, boxAround, pixelsInBox, pixelsOfAreas } from '../../../../core/checks/sweep/map-pixels.ts'
import { classesOf } from '../../../../core/checks/sweep/site-classes.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import { type PaintPlan, paintMap } from '../../../support/paint-map.ts'

const plan: PaintPlan = {
  size: 64,
  sideMm: 64,
  gratings: 1,
  whites: [{ opacity: 0.7, hits: 1 }],
  spots: [],
  varnish: false,
}
const far = { most: 12, placeMm: 1000, looked: 40_000 }

describe('classes of sites', () => {
  test('are the different matter, with how often it is there', () => {
    // A letter of black on white foil in one corner: 16 × 16 pixels of 64 × 64.
    const map = paintMap(plan, (x, y) => (x < -0.5 && y > 0.5 ? { cmyk: [0, 0, 0, 1] } : { whites: [1] }))
    const { classes, pixels, coarseness } = classesOf(map, allPixels(map), far)
    expect(classes.map(({ count }) => count)).toEqual([64 * 64 - 256, 256])
    expect([pixels, coarseness]).toEqual([4096, 0])
    // The one that stands for the corner lies in its middle.
    expect(Math.abs(classes[1]!.xMm - 8)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(classes[1]!.yMm - 56)).toBeLessThanOrEqual(0.5)
  })

  test('are told apart by place where lamp and eye differ', () => {
    const map = paintMap(plan, () => ({}))
    const { classes } = classesOf(map, allPixels(map), { ...far, placeMm: 32 })
    expect(classes.map(({ count }) => count)).toEqual([1024, 1024, 1024, 1024])
    expect(new Set(classes.map(({ xMm, yMm }) => `${xMm < 32} ${yMm < 32}`)).size).toBe(4)
  })

  test('are no more than asked for, whatever the matter', () => {
    const groove = {
      pitch: 1000,
      grooveDepth: 90,
      groove: sinusoid,
      share: 1,
      spreadAlong: 0,
      spreadAcross: 0,
    }
    const map = paintMap(plan, (x, y) => ({
      cmyk: [(x + 1) / 2, (y + 1) / 2, 0, 0],
      gratings: [{ ...groove, azimuth: Math.atan2(y, x) }],
    }))
    for (const most of [1, 5, 12, 100]) {
      const { classes, coarseness } = classesOf(map, allPixels(map), { ...far, most })
      expect(classes.length).toBeLessThanOrEqual(most)
      expect(classes.length).toBeGreaterThanOrEqual(most / 16)
      expect(coarseness).toBeGreaterThan(0)
      expect(classes.reduce((sum, { count }) => sum + count, 0)).toBeCloseTo(4096, 6)
    }
  })

  test('of a large set are those of an even part of it', () => {
    const map = paintMap(plan, x => (x < 0 ? { whites: [1] } : {}))
    const { classes } = classesOf(map, allPixels(map), { ...far, looked: 333 })
    expect(classes.reduce((sum, { count }) => sum + count, 0)).toBeCloseTo(4096, 6)
    for (const { count } of classes) expect(Math.abs(count / 4096 - 0.5)).toBeLessThan(0.05)
  })

  test('of nothing are none', () => {
    const map = paintMap(plan, () => ({}))
    expect(classesOf(map, new Uint32Array(0)).classes).toEqual([])
  })
})

describe('pixels of a map', () => {
  const map = paintMap(plan, () => ({}))

  test('of a box are those whose middles lie in it', () => {
    const pixels = pixelsInBox(map, { leftMm: 10, rightMm: 12, bottomMm: 3, topMm: 4 })
    expect([...pixels]).toEqual([60 * 64 + 10, 60 * 64 + 11])
    expect(boxAround(map, pixels)).toEqual({ leftMm: 10, rightMm: 12, bottomMm: 3, topMm: 4 })
    expect(pixelsInBox(map, { leftMm: 70, rightMm: 90, bottomMm: 3, topMm: 4 })).toHaveLength(0)
    expect(boxAround(map, new Uint32Array(0))).toBeNull()
  })

  test('of an area are those with its number', () => {
    const data = new Uint8Array(64 * 64)
    data.fill(3, 64, 128)
    const planes = new Map(map.planes).set('area', { layout: 'full', components: 1, data })
    const marked: MaterialMap = { ...map, planes }
    const found = pixelsOfAreas(marked)
    expect([...found.keys()]).toEqual([3])
    expect([found.get(3)![0], found.get(3)!.length]).toEqual([64, 64])
  })
})
