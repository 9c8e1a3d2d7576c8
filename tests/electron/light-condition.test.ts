import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { expect, test, vi } from 'vitest'
import { conditionNodes, type PrintCondition } from '../../core/color/print-condition.ts'
import { lightCondition } from '../../electron/light-condition.ts'

setFlagsFromString('--expose-gc')
const collect: () => void = runInNewContext('gc')

/** Memory is given back by a thread of its own, in its own time. */
const patient = { timeout: 30_000, interval: 50 }

const made = (factor: (i: number) => number): PrintCondition => ({
  name: 'made',
  rendering: { intent: 'relative', blackPoint: false },
  solids: [],
  factors: Uint16Array.from({ length: 3 * conditionNodes ** 4 }, (_, i) => factor(i)),
})

/** Any numbers there are, ends included. */
const wild = (i: number): number => (i % 7 === 0 ? 65535 : Math.imul(i, 0x9e3779b1) >>> 16)

test('a condition whose table was let go has the same numbers again', async () => {
  const { condition, packed } = lightCondition(made(wild))
  expect(condition.factors[1]).toBe(wild(1))
  await packed
  const before = new WeakRef(condition.factors)
  await vi.waitFor(() => {
    collect()
    // An error that held the table would keep it.
    expect(before.deref() === undefined).toBe(true)
  }, patient)
  const again = condition.factors
  expect(again.findIndex((value, i) => value !== wild(i))).toBe(-1)
  expect(condition.factors).toBe(again)
  expect(structuredClone(condition).factors.length).toBe(again.length)
})

test('a smooth table takes under a third of its room', async () => {
  const smooth = (i: number): number => Math.round(30000 + 20000 * Math.sin(Math.floor(i / 3) / 50))
  const whole = 6 * conditionNodes ** 4
  collect()
  const start = process.memoryUsage().arrayBuffers
  const { condition, packed } = lightCondition(made(smooth))
  await packed
  await vi.waitFor(() => {
    collect()
    expect(process.memoryUsage().arrayBuffers - start).toBeLessThan(whole / 3)
  }, patient)
  expect(condition.factors[100]).toBe(smooth(100))
})
