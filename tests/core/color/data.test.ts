import { readFileSync } from 'node:fs'
import space from 'color-space'
import { describe, expect, test } from 'vitest'
import { illuminants } from '../../../core/data/illuminants.ts'
import { observer1931 } from '../../../core/data/observer.ts'

const source = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../core/data/source/${name}`, import.meta.url), 'utf8'))

describe('observer', () => {
  test('holds every row of its source', () => {
    const rows = Object.entries(source('cmf1931.json') as Record<string, number[]>)
    expect(rows).toHaveLength(471)
    for (const [nm, row] of rows) {
      const i = Number(nm) - observer1931.start
      expect([observer1931.x[i], observer1931.y[i], observer1931.z[i]]).toEqual(row)
    }
  })

  // CIE 015:2018, table T.4 (1 nm), printed values.
  test.each([
    [450, 0.3362, 0.038, 1.77211],
    [500, 0.0049, 0.323, 0.272],
    [555, 0.51205, 1.0, 0.00575],
    [600, 1.0622, 0.631, 0.0008],
    [650, 0.2835, 0.107, 0],
    [700, 0.01135916, 0.004102, 0],
  ])('%i nm as printed', (nm, x, y, z) => {
    const i = nm - observer1931.start
    expect(observer1931.x[i]).toBeCloseTo(x, 6)
    expect(observer1931.y[i]).toBeCloseTo(y, 6)
    expect(observer1931.z[i]).toBeCloseTo(z, 6)
  })

  // Wyszecki & Stiles, Color Science, 2nd ed., table I(3.3.1), from memory: sums of the 1 nm functions, 360–830 nm.
  test.each([
    ['x', 106.8655],
    ['y', 106.8569],
    ['z', 106.8923],
  ] as const)('sum of %s', (axis, sum) => {
    expect(Math.abs(observer1931[axis].reduce((a, b) => a + b) - sum)).toBeLessThanOrEqual(5e-5)
  })

  test('agrees with an independent copy, color-space (CC0), 5 decimals every 5 nm', () => {
    for (let nm = 380; nm <= 700; nm += 5) {
      const [X, Y, Z] = space.wavelength.xyz(nm) as [number, number, number]
      const i = nm - observer1931.start
      expect(Math.abs(observer1931.x[i]! - X / 100)).toBeLessThanOrEqual(5.1e-6)
      expect(Math.abs(observer1931.y[i]! - Y / 100)).toBeLessThanOrEqual(5.1e-6)
      expect(Math.abs(observer1931.z[i]! - Z / 100)).toBeLessThanOrEqual(5.1e-6)
    }
  })
})

describe('illuminants', () => {
  test('hold every row of their source from 380 to 780 nm', () => {
    const tables = source('illum.json') as Record<string, Record<string, number>>
    expect(Object.keys(illuminants)).toEqual(Object.keys(tables))
    for (const [name, values] of Object.entries(illuminants)) {
      expect(values).toHaveLength(81)
      values.forEach((value, i) => {
        expect(value).toBe(tables[name]![380 + 5 * i])
      })
    }
  })

  // CIE 015:2018, section 4.1.1: the formula of illuminant A; the table prints six digits.
  test('A is its formula', () => {
    const c2 = 1.435e7
    illuminants.A.forEach((value, i) => {
      const nm = 380 + 5 * i
      const planck = (100 * (560 / nm) ** 5 * Math.expm1(c2 / (2848 * 560))) / Math.expm1(c2 / (2848 * nm))
      expect(Math.abs(value / planck - 1)).toBeLessThan(6e-6)
    })
  })

  // CIE 015:2018, table T.1, printed values.
  test.each([
    ['A', 380, 9.7951],
    ['A', 780, 241.675],
    ['D65', 400, 82.7549],
    ['D65', 560, 100],
    ['D65', 600, 90.0062],
    ['D50', 400, 49.308],
    ['D50', 600, 97.688],
  ] as const)('%s at %i nm as printed', (name, nm, value) => {
    expect(illuminants[name][(nm - 380) / 5]).toBeCloseTo(value, 3)
  })
})
