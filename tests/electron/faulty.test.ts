import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { readArt } from '../../core/art/read.ts'
import { memorySource } from '../../core/base/source.ts'
import { checkParts } from '../../core/checks/parts.ts'
import type { ListedFinding } from '../../core/checks/run.ts'
import { parseJob } from '../../core/job/parse.ts'
import { faults, makeFaultyJob } from '../../demo-assets/faulty.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { codeReader } from '../../electron/code-reader.ts'

const file = (name: string) => fileURLToPath(new URL(`../../demo-assets/${name}`, import.meta.url))

/** All that every check finds in a job of the demo. */
async function found(name: string) {
  const job = parseJob(readFileSync(file(`${name}.job.json`), 'utf8'), name)
  const bytes = new Uint8Array(readFileSync(file(`${name}.psd`)))
  const art = await readArt(memorySource(`${name}.psd`, bytes))
  const checks = new CheckWork(async () => checkParts(await codeReader()))
  const { list } = await checks.check(art, { job, assets: [], profile: null })
  return { bytes, art, findings: list.findings }
}

test('nothing fails in the demo', async () => {
  const { findings } = await found('demo')
  expect(findings.filter(one => one.severity === 'error')).toEqual([])
}, 600_000)

test('twenty-one faults are planted in the faulty demo: each is found once, and nothing fails without one', async () => {
  const { bytes, art, findings } = await found('faulty')
  expect(await makeFaultyJob(bytes)).toBe(readFileSync(file('faulty.job.json'), 'utf8'))
  const id = (name: string): string =>
    [...art.art.layers, ...art.art.channels].find(one => one.name === name)!.id
  expect(faults).toHaveLength(21)
  expect(new Set(faults.map(({ code, key }) => `${code} ${key(id)}`)).size).toBe(21)
  // A key has its number in the list where a code is found twice at one place: that would be no longer once.
  const of = (key: string) => (one: ListedFinding) => one.key === key || one.key.startsWith(`${key} (`)
  const told = faults.map(({ done, check, code, key }) => {
    const met = findings.filter(of(key(id)))
    return { done, met: met.map(one => [one.check, one.code]), wanted: [[check, code]] }
  })
  expect(told.map(({ done, met }) => ({ done, met }))).toEqual(
    told.map(({ done, wanted }) => ({ done, met: wanted })),
  )
  const unplanted = findings.filter(
    one => one.severity === 'error' && !faults.some(({ key }) => one.key === key(id)),
  )
  expect(unplanted.map(({ key, message }) => `${key}: ${message}`)).toEqual([])
}, 600_000)
