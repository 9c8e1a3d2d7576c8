import { mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { newPrint } from '../../core/job/usual.ts'
import { openPress, readShipped } from '../../electron/press.ts'
import { keepCondition, keptCondition } from '../../electron/shipped-condition.ts'
import { build } from '../../scripts/build.mjs'

beforeAll(async () => {
  await build('press')
})

test('the condition that the build kept is the one that the engine reads, number by number', async () => {
  const { profile, condition } = await readShipped(newPrint)
  const kept = await keptCondition(profile, newPrint)
  expect(kept).not.toBeNull()
  const { factors, ...head } = kept!
  expect(Buffer.from(factors.buffer).equals(Buffer.from(condition.factors.buffer))).toBe(true)
  expect(head).toEqual({ name: condition.name, rendering: condition.rendering, solids: condition.solids })
  const { press } = await openPress(newPrint)
  expect(press.condition.factors[12345]).toBe(condition.factors[12345])
})

test('of other bytes, another rendering, or where nothing was kept, there is none', async () => {
  const { profile, condition } = await readShipped(newPrint)
  const folder = await mkdtemp(join(tmpdir(), 'rakelight-condition-'))
  expect(await keptCondition(profile, newPrint, folder)).toBeNull()
  await keepCondition(folder, profile, condition)
  expect((await keptCondition(profile, newPrint, folder))?.solids).toEqual(condition.solids)
  expect(await keptCondition('1 2', newPrint, folder)).toBeNull()
  expect(await keptCondition(profile, { ...newPrint, blackPoint: true }, folder)).toBeNull()
  expect(await keptCondition(profile, { ...newPrint, intent: 'perceptual' }, folder)).toBeNull()
})
