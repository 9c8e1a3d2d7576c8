import { describe, expect, it } from 'vitest'
import { checkDigit, retailModules, retailShape } from '../../../../core/checks/codes/retail.ts'

/** Widths, heights, margins and check digits are held to their sources in tests/published/codes.json. */

describe('retail numbers', () => {
  it('refuses what is no number', () => {
    expect(() => checkDigit('59O123')).toThrow(RangeError)
    expect(() => retailModules('EAN-13', '5901234123456')).toThrow(/check digit/)
    expect(() => retailModules('EAN-8', '5901234123457')).toThrow(RangeError)
  })

  it.each(['EAN-13', 'EAN-8', 'UPC-A'] as const)('%s has as many modules as its tables say', kind => {
    const number = { 'EAN-13': '9521234567899', 'EAN-8': '95200002', 'UPC-A': '012345678905' }[kind]
    const modules = retailModules(kind, `${number.slice(0, -1)}${checkDigit(number.slice(0, -1))}`)
    expect(modules).toHaveLength(retailShape[kind].modules)
  })
})
