import { describe, expect, test } from 'vitest'
import { Cancelled } from '../../../core/base/task.ts'
import type { CheckFinding } from '../../../core/checks/finding.ts'
import type { CheckInput, CheckPart } from '../../../core/checks/input.ts'
import { listed, runChecks } from '../../../core/checks/run.ts'
import { checkFinding, waiverOf } from '../../support/check-finding.ts'

const part = (name: CheckPart['name'], run: CheckPart['run']): CheckPart => ({ name, says: '', run })
const input = {} as CheckInput
const keysOf = (found: readonly CheckFinding[]) => listed(found, []).findings.map(one => one.key)
const measuring = (key: string, value: number) => checkFinding({ key, measured: { value, unit: ':1' } })

describe('runChecks', () => {
  test('joins what the parts find with what was told, and says how far it is', async () => {
    const seen: [number, string][] = []
    const list = await runChecks(
      input,
      [
        part('codes', async (_, task) => {
          task?.progress?.(0.5, 'reading')
          return [checkFinding({ check: 'codes', key: 'a' })]
        }),
        part('white', async () => [checkFinding({ check: 'white', key: 'b', severity: 'note' })]),
      ],
      [],
      { progress: (done, what) => seen.push([done, what]) },
      [checkFinding({ check: 'preflight', key: 'c', severity: 'warning' })],
    )
    expect(list.findings.map(one => one.key)).toEqual(['a', 'c', 'b'])
    expect(list.sums).toEqual({ fails: 1, warnings: 1, notes: 1, waived: 0 })
    expect(list.ran).toEqual(['codes', 'white'])
    expect(seen).toEqual([
      [0, 'codes'],
      [0.25, 'codes, reading'],
      [0.5, 'white'],
      [1, 'list'],
    ])
  })

  test('what is worked out elsewhere runs beside the others, and keeps its place in the list', async () => {
    const order: string[] = []
    let end = (): void => undefined
    const elsewhere = new Promise<void>(done => {
      end = done
    })
    const beside: CheckPart = {
      ...part('codes', async () => {
        order.push('codes begins')
        await elsewhere
        order.push('codes ends')
        return [checkFinding({ check: 'codes', key: 'a' })]
      }),
      beside: true,
    }
    const list = await runChecks(
      input,
      [
        part('legibility', async () => [checkFinding({ check: 'legibility', key: 'a' })]),
        beside,
        part('white', async () => {
          order.push('white')
          end()
          return [checkFinding({ check: 'white', key: 'a' })]
        }),
      ],
      [],
    )
    expect(order).toEqual(['codes begins', 'white', 'codes ends'])
    expect(list.ran).toEqual(['legibility', 'codes', 'white'])
    expect(list.findings.map(({ check, key }) => `${check} ${key}`).toSorted()).toEqual([
      'codes a (2)',
      'legibility a',
      'white a (3)',
    ])
  })

  test('what fails elsewhere fails the check, once the others are through', async () => {
    const beside: CheckPart = { ...part('codes', () => Promise.reject(new Error('lost'))), beside: true }
    const ran: string[] = []
    const other = part('white', async () => {
      ran.push('white')
      return []
    })
    await expect(runChecks(input, [beside, other], [])).rejects.toThrow('lost')
    expect(ran).toEqual(['white'])
  })

  test('stops between parts, and hands the signal to each', async () => {
    const stop = new AbortController()
    const ran: string[] = []
    const running = runChecks(
      input,
      [
        part('codes', async (_, task) => {
          ran.push('codes')
          expect(task?.signal).toBe(stop.signal)
          stop.abort()
          return []
        }),
        part('white', async () => {
          ran.push('white')
          return []
        }),
      ],
      [],
      { signal: stop.signal },
    )
    await expect(running).rejects.toThrow(Cancelled)
    expect(ran).toEqual(['codes'])
  })

  test('what a part throws is not swallowed', async () => {
    const broken = part('glare', async () => {
      throw new RangeError('a broken promise')
    })
    await expect(runChecks(input, [broken], [])).rejects.toThrow('a broken promise')
  })
})

describe('listed', () => {
  test('worst first: severity, then check, then how far beyond its limit either way', () => {
    const found = [
      checkFinding({ key: 'note', severity: 'note' }),
      checkFinding({ key: 'preflight', check: 'preflight' }),
      measuring('nearly', 4.4),
      measuring('below', 1.1),
      measuring('above', 45),
      measuring('none', 0),
      checkFinding({ key: 'unmeasured', measured: null }),
      checkFinding({ key: 'other unit', measured: { value: 9, unit: 'mm' } }),
      checkFinding({ key: 'warning', severity: 'warning' }),
    ]
    const sorted = [
      'none',
      'above',
      'below',
      'nearly',
      'unmeasured',
      'other unit',
      'preflight',
      'warning',
      'note',
    ]
    expect(keysOf(found)).toEqual(sorted)
  })

  test('no two findings have one key, and a key that somebody has stays with them', () => {
    const found = ['a', 'a', 'a (2)', 'a'].map(key => checkFinding({ key, measured: null }))
    expect(keysOf(found)).toEqual(['a', 'a (3)', 'a (2)', 'a (4)'])
  })

  test('a waived finding stays, marked, after those that stand, and fails no more', () => {
    const found = [checkFinding({ key: 'a' }), checkFinding({ key: 'b' })]
    const list = listed(found, [waiverOf('a'), waiverOf('gone')])
    expect(list.findings.map(one => [one.key, one.waiver])).toEqual([
      ['b', null],
      ['a', waiverOf('a')],
    ])
    expect(list.sums).toEqual({ fails: 1, warnings: 0, notes: 0, waived: 1 })
    expect(list.unused).toEqual([waiverOf('gone')])
    expect(listed(found, [waiverOf('a'), waiverOf('b')]).sums.fails).toBe(0)
  })

  test('a waiver of one of two findings of a key leaves the other', () => {
    const found = [checkFinding({ key: 'a' }), checkFinding({ key: 'a' })]
    expect(listed(found, [waiverOf('a')]).sums).toEqual({ fails: 1, warnings: 0, notes: 0, waived: 1 })
  })

  test('nothing found is an empty list', () => {
    const sums = { fails: 0, warnings: 0, notes: 0, waived: 0 }
    expect(listed([], [])).toEqual({ ran: [], findings: [], unused: [], sums })
  })
})
