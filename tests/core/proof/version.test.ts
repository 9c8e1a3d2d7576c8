import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { dataVersion } from '../../../core/data/version.ts'
import { jobVersion } from '../../../core/job/job.ts'
import { checkVersion } from '../../../core/proof/read-version.ts'
import { jobHash, type ProofVersion, shortId, versionOf } from '../../../core/proof/version.ts'
import { plainJob } from '../../support/job.ts'

const version: ProofVersion = versionOf({
  jobName: 'eyepiece.job.json',
  madeAt: '2026-03-04T09:30:00Z',
  program: '0.1.0',
  data: dataVersion,
  sources: [{ kind: 'art', name: 'eyepiece.psd', sha256: 'ab'.repeat(32), bytes: 4096 }],
  job: plainJob,
})
const saved = () => JSON.parse(JSON.stringify(version))

test('a version reads back as it was written', () => {
  expect(checkVersion(saved(), 'proof')).toEqual(version)
  expect(shortId(version.id)).toMatch(/^[0-9a-f]{8}$/)
})

test('its id follows from everything in it, and from nothing else', () => {
  const { id, jobSha256, ...rest } = version
  expect(versionOf({ ...rest, job: { ...plainJob } }).id).toBe(id)
  expect(jobSha256).toBe(jobHash(plainJob))
  for (const other of [
    { jobName: 'other.job.json' },
    { madeAt: '2026-03-04T09:30:01Z' },
    { program: '0.1.1' },
    { data: '000000000000' },
    { sources: [] },
    { job: { ...plainJob, brief: 'A comet' } },
  ])
    expect(versionOf({ ...rest, ...other }).id).not.toBe(id)
})

test('one that was changed afterwards is refused with the field', () => {
  const job = { ...saved(), job: { ...plainJob, brief: 'A comet' } }
  expect(() => checkVersion(job, 'proof')).toThrow(
    'proof: field "job": is not what its hash "jobSha256" says',
  )
  const source = saved()
  source.sources[0].bytes = 4097
  expect(() => checkVersion(source, 'proof')).toThrow('the version: is not what its hash "id" says')
  expect(() => checkVersion({ ...saved(), extra: 1 }, 'proof')).toThrow('field "extra"')
  expect(() => checkVersion({ ...saved(), madeAt: 'yesterday' }, 'proof')).toThrow('field "madeAt"')
})

test('one made with a newer job says so', () => {
  const newer = { ...saved(), job: { ...plainJob, version: jobVersion + 1 } }
  expect(() => checkVersion(newer, 'proof')).toThrow('was saved by a newer rakelight')
})

test('the version of the tables is that of the tables', () => {
  const all = createHash('sha256')
  for (const name of [
    'observer.ts',
    'illuminants.ts',
    'aluminium.ts',
    'primaries.ts',
    'icc/ISOcoated_v2_300_bas.icc',
  ])
    all.update(readFileSync(new URL(`../../../core/data/${name}`, import.meta.url)))
  // Where this fails: node core/data/make.mjs
  expect(dataVersion).toBe(all.digest('hex').slice(0, 12))
})
