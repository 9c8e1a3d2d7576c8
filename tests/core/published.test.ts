import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { quantities } from '../published/quantities.ts'
import { judge, type PublishedRow, readRows, statuses } from '../published/row.ts'

const files = readRows(fileURLToPath(new URL('../published/', import.meta.url)))
const all = [...files.values()].flat()

describe.each([...files])('published: %s', (_, rows) => {
  test.each(rows.map((row, i) => [i + 1, row.what, row] as const))('row %i, %s', (_, __, row) => {
    const { found, difference, allowed, within } = judge(row, quantities)
    expect(within, `ours ${found.join(' ')}, off by ${difference}, allowed ${allowed}`).toBe(true)
  })
})

describe('the rows themselves', () => {
  test('are at least 120, and every quantity is asked for', () => {
    expect(all.length).toBeGreaterThanOrEqual(120)
    const asked = new Set(all.map(row => row.ours))
    expect(Object.keys(quantities).filter(name => !asked.has(name))).toEqual([])
  })

  test('name what, source and status', () => {
    for (const row of all) {
      expect(row.what, JSON.stringify(row)).not.toBe('')
      expect(row.source, row.what).not.toBe('')
      expect(statuses, row.what).toContain(row.status)
      for (const tolerance of [row.tolerance].flat()) expect(tolerance, row.what).toBeGreaterThanOrEqual(0)
    }
  })

  const row: PublishedRow = {
    what: 'J0(1)',
    ours: 'Bessel J',
    at: [0, 1],
    value: 0.7651976866,
    tolerance: 5e-11,
    source: 'a test',
    status: 'computed',
  }
  test('fail on a wrong value, an unknown quantity, no number and another count of numbers', () => {
    expect(judge(row, quantities).within).toBe(true)
    expect(judge({ ...row, value: 0.7651976867 }, quantities).within).toBe(false)
    expect(judge({ ...row, at: [0, Number.NaN] }, quantities).within).toBe(false)
    expect(() => judge({ ...row, ours: 'Bessel K' }, quantities)).toThrow('there is no quantity "Bessel K"')
    expect(() => judge({ ...row, value: [1, 2] }, quantities)).toThrow('2 values are printed, ours are 1')
  })

  test('take the other answer where the source knows two, and no third', () => {
    const two = { ...row, ours: 'lightness', at: [0.1841865], value: 4, or: 50, tolerance: 1e-5 }
    expect(judge(two, quantities).within).toBe(true)
    expect(judge({ ...two, or: 6 }, quantities).within).toBe(false)
  })
})
