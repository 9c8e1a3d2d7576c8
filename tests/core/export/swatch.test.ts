import { describe, expect, it } from 'vitest'
import { judge } from '../../../core/effects/judge.ts'
import { effectKinds } from '../../../core/effects/kinds.ts'
import { type SwatchTables, swatchFrames, swatchOf } from '../../../core/export/swatch.ts'
import { stackAt } from '../../../core/material/sample.ts'
import { swatchMap } from '../../../core/material/swatch.ts'

const tables: SwatchTables = new Map()

/** Mean red, green and blue of one picture of a swatch. */
function meanOf(kind: string, frame: number): readonly [number, number, number] {
  const { width, height, data } = swatchOf({ kind, parameters: {} }, tables)
  const count = width * height
  const sums: [number, number, number] = [0, 0, 0]
  for (let i = 0; i < count; i++)
    for (let c = 0; c < 3; c++) sums[c]! += data[3 * (frame * count + i) + c]! / count
  return sums
}

describe('swatches', () => {
  it.each(effectKinds.map(kind => kind.name))('%s has something to show', kind => {
    const map = swatchMap({ kind, parameters: {} })
    let lit = 0
    for (let x = 0.5; x < 30; x += 1)
      for (let y = 0.5; y < 20; y += 1) lit += stackAt(map, x, y).gratings.length
    expect(lit).toBeGreaterThan(40)
  })

  it('runs through the rainbow as the grating equation says', () => {
    // λ = d (sin of the lamp's angle to the panel + sin of the eye's): 1 µm and a lamp 30° off straight-on give 500 nm,
    // blue-green. Tilted forward by 9° both angles change: |sin(30° − 9°) − sin(9°)| · 1000 = 202 nm, dark; back by
    // 9°: 629 + 156 = 785 nm, dark again.
    const quarter = swatchFrames / 8
    const [straight, forward, back] = [0, quarter, 3 * quarter].map(frame => meanOf('plain', frame))
    expect(straight![1]).toBeGreaterThan(2 * straight![0])
    expect(straight![1]).toBeGreaterThan(100)
    for (const dark of [forward!, back!]) expect(Math.max(...dark)).toBeLessThan(straight![1] / 2)
  })

  it('is the same each time', () => {
    expect(swatchOf({ kind: 'sparkle', parameters: {} }, tables)).toEqual(
      swatchOf({ kind: 'sparkle', parameters: {} }, new Map()),
    )
  })
})

describe('what is said of an effect before it is built', () => {
  const frame = { centerXMm: 50, centerYMm: 80, widthMm: 40, heightMm: 20, pixelMm: 0.085 }
  const codes = (kind: string, parameters: Record<string, unknown>) =>
    judge({ kind, parameters }, frame).warnings.map(one => one.code)

  it('warns where the model was not checked, wherever in the area that is', () => {
    expect(codes('plain', { pitchNm: 666 })).toEqual(['pitch-not-validated'])
    expect(codes('plain', { pitchNm: 667 })).toEqual([])
    expect(codes('gradient', { pitchNm: 600, endPitchNm: 1400 })).toEqual(['pitch-not-validated'])
    // Its views are made for 430 nm under a lamp 30° up: 430 / cos 30° = 497 nm.
    const steep = { secondLayerId: 'a', wavelengthNm: 430, lampElevationDeg: 30 }
    expect(codes('switch', steep)).toEqual(['pitch-not-validated'])
    expect(codes('crossed', { pitchNm: 500 })).toEqual(['pitch-not-validated'])
  })

  it('says why nothing can be made of it', () => {
    expect(judge({ kind: 'plain', parameters: { pitchNm: 399 } }, frame).refused).toContain('400..10000 nm')
    expect(judge({ kind: 'aurora', parameters: {} }, frame)).toEqual({ refused: null, warnings: [] })
  })
})
