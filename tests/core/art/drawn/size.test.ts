import { describe, expect, it } from 'vitest'
import { isTooLarge, mostPpiOf, pixelsOf } from '../../../../core/art/drawn/size.ts'

describe('resolution of a drawn page', () => {
  it('gives whole pixels of the length: 25.4 mm are an inch, by definition of 1959', () => {
    expect(pixelsOf(25.4, 50.8, 300)).toEqual({ width: 300, height: 600 })
    expect(pixelsOf(100, 150, 300)).toEqual({ width: 1181, height: 1772 })
    expect(pixelsOf(0.001, 100, 36)).toEqual({ width: 1, height: 142 })
  })

  it('ends where the page has as many pixels as may be, and at the finest that may be chosen', () => {
    expect(mostPpiOf(100, 150)).toBe(2400)
    const most = mostPpiOf(1400, 1000)
    expect(most).toBeLessThan(2400)
    expect(isTooLarge(pixelsOf(1400, 1000, most))).toBe(false)
    expect(isTooLarge(pixelsOf(1400, 1000, most + 1))).toBe(true)
    expect(mostPpiOf(1e6, 1e6)).toBeLessThan(1)
  })
})
