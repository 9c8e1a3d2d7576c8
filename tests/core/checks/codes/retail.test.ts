import { describe, expect, it } from 'vitest'
import { retailModuleMm } from '../../../../core/checks/codes/bars.ts'
import {
  checkDigit,
  retailModules,
  retailShape,
  retailWidthMm,
} from '../../../../core/checks/codes/retail.ts'
import { apertureName, aperturePart } from '../../../../core/checks/codes/scan.ts'

describe('retail numbers', () => {
  // Arithmetic of the check digit on two printed examples.
  it.each([
    ['590123412345', 7],
    ['01234567890', 5],
  ])('%s is completed by %i', (number, digit) => {
    expect(checkDigit(number)).toBe(digit)
  })

  it('refuses what is no number', () => {
    expect(() => checkDigit('59O123')).toThrow(RangeError)
    expect(() => retailModules('EAN-13', '5901234123456')).toThrow(/check digit/)
    expect(() => retailModules('EAN-8', '5901234123457')).toThrow(RangeError)
  })

  it('5901234123457 has the bars of the printed example', () => {
    expect(retailModules('EAN-13', '5901234123457')).toBe(
      '10100010110100111011001100100110111101001110101010110011011011001000010101110010011101000100101',
    )
  })

  it.each(['EAN-13', 'EAN-8', 'UPC-A'] as const)('%s has as many modules as its tables say', kind => {
    const number = { 'EAN-13': '9521234567899', 'EAN-8': '95200002', 'UPC-A': '012345678905' }[kind]
    const modules = retailModules(kind, `${number.slice(0, -1)}${checkDigit(number.slice(0, -1))}`)
    expect(modules).toHaveLength(retailShape[kind].modules)
  })

  // Widths and heights as national code bodies list them, rounded to 0.01 mm.
  it.each([
    ['EAN-13', 0.264, 29.83],
    ['EAN-13', 0.33, 37.29],
    ['EAN-13', 0.66, 74.58],
    ['EAN-8', 0.33, 26.73],
    ['UPC-A', 0.33, 37.29],
  ] as const)('%s at a module of %f mm is %f mm wide', (kind, module, width) => {
    expect(retailWidthMm(kind, module)).toBeCloseTo(width, 2)
  })

  it('light margins at the nominal size are 3.63 and 2.31 mm', () => {
    expect(retailShape['EAN-13'].left * 0.33).toBeCloseTo(3.63, 6)
    expect(retailShape['EAN-13'].right * 0.33).toBeCloseTo(2.31, 6)
  })

  // Heights of the bars at 80, 100 and 200 % as national code bodies list them, to 0.01 mm.
  it.each([
    [0.8, 18.28],
    [1, 22.85],
    [2, 45.7],
  ])('bars of EAN-13 at %f of nominal are %f mm high', (magnification, height) => {
    expect(retailShape['EAN-13'].heightMm * magnification).toBeCloseTo(height, 2)
  })

  it('an aperture of 0.8 of the smallest module is 0.211 mm; 06 names 0.1524 mm', () => {
    // General guidance, two secondary pages; thousandths of an inch by arithmetic.
    expect(aperturePart * retailModuleMm.least).toBeCloseTo(0.2112, 4)
    expect(apertureName(0.1524)).toBe('06')
  })
})
