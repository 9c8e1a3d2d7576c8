import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { scanGrades, scanNumbers, symbolGrade } from '../../../../core/checks/codes/grade.ts'
import { edgesOf, elementsOf } from '../../../../core/checks/codes/profile.ts'

/** Steps of ISO/IEC 15416 by two secondary pages; the worked rows are arithmetic on them. */

const scan = (most: number, least: number, leastEdge: number, nonuniformity: number, decodability: number) =>
  scanGrades({ most, least, leastEdge, nonuniformity, decodability })

describe('grades of a scan line', () => {
  it('a good line is a 4 throughout', () => {
    const found = scan(0.8, 0.05, 0.56, 0.08, 0.65)
    expect(found.symbolContrast).toBeCloseTo(0.75, 12)
    expect(found.modulation).toBeCloseTo(0.7467, 4)
    expect(found.defects).toBeCloseTo(0.1067, 4)
    expect(found.grades).toMatchObject({ symbolContrast: 4, modulation: 4, defects: 4, decodability: 4 })
    expect(found.grade).toBe(4)
  })

  it('a weak line has the lowest of its grades', () => {
    const found = scan(0.35, 0.05, 0.16, 0.06, 0.65)
    expect(found.grades).toMatchObject({ symbolContrast: 1, modulation: 2, defects: 3 })
    expect(found.grade).toBe(1)
  })

  it('bars lighter than half the spaces fail', () => {
    const found = scan(0.6, 0.35, 0.25, 0.01, 0.7)
    expect(found.grades.leastReflectance).toBe(0)
    expect(found.grade).toBe(0)
  })

  it.each([
    [0.14, 0],
    [0.15, 4],
  ])('a least edge of %f is %i', (leastEdge, grade) => {
    expect(scan(0.8, 0.05, leastEdge, 0, 0.7).grades.leastEdge).toBe(grade)
  })

  it.each([
    [0.7, 4],
    [0.699, 3],
    [0.55, 3],
    [0.4, 2],
    [0.2, 1],
    [0.199, 0],
  ])('a contrast of %f is %i', (contrast, grade) => {
    expect(scan(contrast + 0.05, 0.05, contrast, 0, 0.7).grades.symbolContrast).toBe(grade)
  })

  it('what cannot be decoded is a 0', () => {
    expect(
      scanGrades({ most: 0.8, least: 0.05, leastEdge: 0.7, nonuniformity: 0, decodability: null }).grade,
    ).toBe(0)
  })

  it('a symbol has the mean of its scans', () => {
    expect(symbolGrade([{ grade: 4 }, { grade: 3 }, { grade: 3 }, { grade: 2 }])).toBe(3)
    expect(() => symbolGrade([])).toThrow(RangeError)
  })
})

describe('a scan profile', () => {
  const ramp = [0.8, 0.8, 0.6, 0.2, 0.1, 0.2, 0.6, 0.8, 0.8]

  it('is cut midway between its extremes, edges between samples', () => {
    const elements = elementsOf(ramp)
    expect(elements.map(({ kind, extreme }) => [kind, extreme])).toEqual([
      ['space', 0.8],
      ['bar', 0.1],
      ['space', 0.8],
    ])
    // Cut at 0.45: between 0.6 and 0.2 by a straight line.
    expect(edgesOf(ramp, elements)).toEqual([expect.closeTo(2.375, 12), expect.closeTo(5.625, 12)])
  })

  it('one rise and one fall is no unevenness; a dip between two tops is', () => {
    expect(elementsOf(ramp).every(({ nonuniformity }) => nonuniformity === 0)).toBe(true)
    const dipped = [0.8, 0.8, 0.1, 0.75, 0.6, 0.7, 0.1, 0.8]
    expect(elementsOf(dipped)[2]!.nonuniformity).toBeCloseTo(0.15, 12)
    const spotted = [0.8, 0.1, 0.25, 0.05, 0.8]
    expect(elementsOf(spotted)[1]!.nonuniformity).toBeCloseTo(0.2, 12)
  })

  it('has no numbers without a bar', () => {
    expect(scanNumbers([0.5, 0.5, 0.5], null)).toBeNull()
  })

  it('light scaled as a whole leaves modulation and defects', () => {
    const lines = fc.array(fc.double({ min: 0.05, max: 0.9, noNaN: true }), { minLength: 8, maxLength: 40 })
    fc.assert(
      fc.property(lines, fc.double({ min: 0.2, max: 1, noNaN: true }), (line, scale) => {
        const a = scanNumbers(line, 0.7)
        const b = scanNumbers(
          line.map(one => one * scale),
          0.7,
        )
        fc.pre(a !== null && b !== null && a.most - a.least > 1e-3)
        expect(scanGrades(b!).modulation).toBeCloseTo(scanGrades(a!).modulation, 6)
        expect(scanGrades(b!).defects).toBeCloseTo(scanGrades(a!).defects, 6)
      }),
      { seed: 15416 },
    )
  })
})
