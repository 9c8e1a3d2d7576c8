import { describe, expect, test } from 'vitest'
import { illuminantSpectrum, observer, spectrumToXyz } from '../../../core/color/spectrum.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { readTable, tableCoordinate } from '../../../core/optics/coordinate.ts'
import { blazed, rectangular, sampled, sinusoid } from '../../../core/optics/groove.ts'
import { demichel, inksOf, spotTransmittance } from '../../../core/optics/ink.ts'
import { inkNodes } from '../../../core/optics/ink-nodes.ts'
import { metalReflectance } from '../../../core/optics/metal.ts'
import { groovePhase, orderShare } from '../../../core/optics/order-share.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import {
  betweenSlants,
  efficiencyRow,
  grooveRows,
  maxOpticalDepth,
  maxOrder,
  maxPhase,
  orderZeroRow,
  primaryCount,
  slants,
} from '../../../core/optics/tables.ts'

const spot: [number, number, number] = [55, 60, 40]
const grooves = [sinusoid, rectangular(), blazed, rectangular(0.3), sampled('hill', [0, 1, 3, 4, 3, 1, 0, 0])]
const tables = bakeTables({
  illuminant: 'D65',
  board: defaultBoard,
  grooves,
  spots: [{ lab: spot }, { lab: null }],
  whites: [
    { opacity: 0.5, hits: 1 },
    { opacity: 0.5, hits: 2 },
    { opacity: 1, hits: 1 },
  ],
})
/** Rounding of one float32. */
const single = 6e-8

describe('table coordinates', () => {
  // (x (N − 1) + ½) / N, so that a linear filter's ends are the middles of the end texels.
  test('ends and middle', () => {
    for (const n of [1, 2, 5, 256]) {
      expect(tableCoordinate(0, n)).toBe(0.5 / n)
      expect(tableCoordinate(1, n)).toBe((n - 0.5) / n)
      expect(tableCoordinate(0.5, n)).toBeCloseTo(0.5, 15)
    }
  })

  test('a filter at the coordinate reads what readTable reads', () => {
    const table = {
      width: 5,
      height: 2,
      channels: 1,
      data: Float32Array.of(0, 0, 0, 0, 0, 3, 1, 4, 1, 5),
    } as const
    for (let x = 0; x <= 1; x += 0.01) {
      const texel = tableCoordinate(x, 5) * 5 - 0.5
      const left = Math.min(Math.floor(texel), 3)
      const [a, b] = [table.data[5 + left]!, table.data[6 + left]!]
      expect(readTable(table, x, 1)).toBeCloseTo(a + (texel - left) * (b - a), 12)
    }
    expect(readTable(table, -1, 1)).toBe(3)
    expect(readTable(table, 2, 1)).toBe(5)
    expect(readTable({ width: 1, height: 1, channels: 1, data: Float32Array.of(7) }, 0.4, 0)).toBe(7)
  })
})

describe('tables', () => {
  test('sizes', () => {
    for (const table of Object.values(tables))
      if (table !== null && typeof table === 'object' && 'data' in table)
        expect(table.data.length).toBe(table.width * table.height * table.channels)
    expect(tables.efficiency.height).toBe(grooves.length * grooveRows)
    expect(tables.orderZero.height).toBe(grooves.length * slants.length * primaryCount)
  })

  test('light adds up: the last texel is all of it, and differences are the part between', () => {
    const light = illuminantSpectrum('D65')
    const metal = light.map((v, i) => v * metalReflectance(380 + i, 1, 1.5))
    const whole = spectrumToXyz(metal)
    // Half of the first and of the last nanometre lie outside.
    const ends = ([0, 1, 2] as const).map(c => {
      const cmf = [observer.x, observer.y, observer.z][c]!
      return (metal[0]! * cmf[0]! + metal[400]! * cmf[400]!) / 2
    })
    for (const c of [0, 1, 2] as const)
      expect(Math.abs(tables.cumulative.data[4 * 400 + c]! - whole[c] + ends[c]!)).toBeLessThan(2 * single)
    let part = 0
    for (let i = 101; i < 200; i++) part += metal[i]! * observer.y[i]!
    part += (metal[100]! * observer.y[100]! + metal[200]! * observer.y[200]!) / 2
    const read = tables.cumulative.data[4 * 200 + 1]! - tables.cumulative.data[4 * 100 + 1]!
    expect(Math.abs(read - part)).toBeLessThan(2 * single)
  })

  // 256 columns over φ in 0…12.8, straight between: second derivative at most about ½, step 0.05.
  test('efficiency between its columns is within 2e-4 of the function', () => {
    for (const [index, groove] of grooves.entries())
      for (let m = -maxOrder; m <= maxOrder; m++)
        for (let φ = 0; φ <= maxPhase; φ += 0.0371) {
          const read = readTable(tables.efficiency, φ / maxPhase, efficiencyRow(index, m))
          expect(Math.abs(read - orderShare(groove, m, φ))).toBeLessThan(2e-4)
        }
  })

  test('order 0 between its columns is within 0.2 % of white of the integral', () => {
    const light = illuminantSpectrum('D65')
    for (const [grooveIndex, groove] of grooves.entries())
      for (const depth of [0, 77, 181, 333, 600, maxOpticalDepth])
        for (const p of [0, 2, 5, 15])
          for (const [slantIndex, slant] of slants.entries()) {
            const ink = inksOf().primaries[p]!
            const exact = spectrumToXyz(
              light.map((v, i) => {
                const λ = 380 + i
                const share = orderShare(groove, 0, groovePhase(λ, depth, 1))
                return v * metalReflectance(λ, 1, 1.5) * share * ink[i]! ** slant
              }),
            )
            const row = orderZeroRow(grooveIndex, slantIndex, p)
            for (const c of [0, 1, 2] as const)
              expect(
                Math.abs(readTable(tables.orderZero, depth / maxOpticalDepth, row, c) - exact[c]),
              ).toBeLessThan(0.002)
          }
  })

  test('inks: every 10 nm exactly, and four filters a texel', () => {
    for (const [p, t] of inksOf().primaries.entries())
      for (const i of [0, 13, 40])
        for (const [slantIndex, slant] of slants.entries()) {
          const texel = (slantIndex * 4 + (p >> 2)) * 41 + i
          expect(tables.inkPath.data[4 * texel + (p & 3)]).toBeCloseTo(t[10 * i]! ** slant, 6)
        }
    const t = spotTransmittance({ lab: spot })
    expect(tables.spotPath!.data[4 * 20]).toBeCloseTo(t[200]! ** 2, 6)
    expect(tables.spotPath!.data[4 * 20 + 1]).toBe(1)
    const nodes = tables.spotNodes!
    expect(nodes.data[4 * 2 + 1]).toBeCloseTo(inksOf().primaries[2]![inkNodes[1] - 380]!, 6)
    expect(nodes.data[4 * (3 * nodes.width) + 3]).toBeCloseTo(t[inkNodes[7] - 380]!, 6)
  })

  test('between slants: exact at both, near the power between and on', () => {
    for (const t of [0.15, 0.3, 0.7, 1]) {
      const [f0, f1] = [t ** slants[0], t ** slants[1]]
      expect(betweenSlants(f0, f1, 0)).toBeCloseTo(f0, 14)
      expect(betweenSlants(f0, f1, 1)).toBeCloseTo(f1, 14)
      for (const s of [2.05, 2.15, 2.4]) {
        const x = (s - slants[0]) / (slants[1] - slants[0])
        expect(Math.abs(betweenSlants(f0, f1, x) / t ** s - 1)).toBeLessThan(0.02)
      }
    }
  })

  test('eight wavelengths stand for the spectrum of a halftone on white', () => {
    const light = illuminantSpectrum('D65')
    const white = spectrumToXyz(light)
    const { primaries } = inksOf()
    const areas = new Float64Array(16)
    for (const cmyk of [
      [0, 0, 0, 0],
      [0.3, 0.6, 0.1, 0.2],
      [1, 0.5, 0, 0],
      [0.1, 0.2, 0.9, 0],
      [0.7, 0.6, 0.6, 0.8],
    ]) {
      demichel(cmyk, areas)
      const mean = (i: number) => areas.reduce((sum, a, p) => sum + a * primaries[p]![i]!, 0)
      const exact = spectrumToXyz(light.map((v, i) => v * mean(i) ** 2))
      for (const c of [0, 1, 2] as const) {
        const read = inkNodes.reduce(
          (sum, λ, n) =>
            sum + tables.spotNodes!.data[4 * (4 * tables.spotNodes!.width + n) + c]! * mean(λ - 380) ** 2,
          0,
        )
        // 0.3 ΔE00 at most: under 1 % of a light tint, 0.001 of white in the dark.
        expect(Math.abs(read * white[c] - exact[c])).toBeLessThan(0.01 * exact[c] + 0.001)
      }
    }
  })

  test('metal, whites and board', () => {
    for (const cos of [0.75, 0.9, 1]) {
      const x = (cos - tables.cosGrazing) / (1 - tables.cosGrazing)
      const exact = metalReflectance(555, cos, 1.5) / metalReflectance(555, 1, 1.5)
      expect(readTable(tables.metalAngle, x, 0)).toBeCloseTo(exact, 5)
      // One factor serves all wavelengths.
      for (const λ of [420, 500, 650])
        expect(metalReflectance(λ, cos, 1.5) / metalReflectance(λ, 1, 1.5)).toBeCloseTo(exact, 2)
    }
    const [one, two, perfect] = tables.whiteScatter
    expect(two! / one!).toBeCloseTo(2, 12)
    expect(Math.exp(-2 * tables.whiteStraight[2]!)).toBe(0)
    expect(perfect).toBeGreaterThan(1e5)
    expect(tables.foilAlbedo[1]).toBeCloseTo(0.87, 2)
  })
})
