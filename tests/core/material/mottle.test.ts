import { describe, expect, test } from 'vitest'
import { mottlePlane, unevenness, unevennessOf } from '../../../core/material/mottle.ts'

const plane = (pixels: number, mm: number) =>
  mottlePlane({ width: pixels, height: pixels, widthMm: mm, heightMm: mm })

describe('mottle', () => {
  // Mean 0 and mean square 1 over many patches; the tolerance is that of some 2000 independent 3 mm patches.
  test('mean and spread', () => {
    let [sum, square, count] = [0, 0, 0]
    for (let y = 0.05; y < 140; y += 0.37)
      for (let x = 0.05; x < 140; x += 0.37) {
        const n = unevenness(x, y)
        sum += n
        square += n * n
        count++
      }
    expect(Math.abs(sum / count)).toBeLessThan(0.06)
    expect(Math.abs(square / count - 1)).toBeLessThan(0.06)
  })

  test('never leaves its byte', () => {
    const data = plane(300, 100)
    expect(Math.min(...data)).toBeGreaterThan(0)
    expect(Math.max(...data)).toBeLessThan(255)
    expect(unevennessOf(128)).toBe(0)
  })

  test('a carton has the same coat at every resolution', () => {
    const [fine, coarse] = [plane(200, 20), plane(50, 20)]
    let worst = 0
    for (let y = 0; y < 50; y++)
      for (let x = 0; x < 50; x++) {
        let sum = 0
        for (let j = 0; j < 4; j++) for (let i = 0; i < 4; i++) sum += fine[(4 * y + j) * 200 + 4 * x + i]!
        worst = Math.max(worst, Math.abs(sum / 16 - coarse[y * 50 + x]!))
      }
    // Both are rounded to whole bytes, and the coarse one looks at the same places as the fine one's middles.
    expect(worst).toBeLessThanOrEqual(1)
    expect(plane(50, 20)).toEqual(coarse)
  })
})
