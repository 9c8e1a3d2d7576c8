import { afterAll, beforeAll, expect, test } from 'vitest'
import { Cancelled } from '../../core/base/task.ts'
import { glareCheck } from '../../core/checks/glare/glare.ts'
import { putOutline, setEffect } from '../../core/job/edit.ts'
import { setLimit } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { GlareThread } from '../../electron/glare-thread.ts'
import { build } from '../../scripts/build.mjs'
import { lensJob } from '../support/lens-art.ts'

const glare = new GlareThread()
afterAll(() => glare.close())
beforeAll(() => build('workers'))

const { file, job: plain } = await lensJob()
const list = async (checks: CheckWork, job: Job) =>
  (await checks.check(file, { job, assets: [], profile: null })).list
const here = () => new CheckWork(async () => [glareCheck])

test('what another thread finds is what this one finds, first and after edits and limits', async () => {
  const there = new CheckWork(async () => glare.among([glareCheck]))
  const ring = [
    [1, 1],
    [3, 1],
    [3, 3],
  ] as const
  const edited = [
    putOutline({ id: 'wedge', name: 'Wedge', rings: [ring] }),
    setEffect({ kind: 'outline', id: 'wedge' }, { kind: 'plain', parameters: { pitchNm: 800 } }),
  ].reduce((job: Job, edit) => edit(job), plain)
  for (const job of [plain, edited, setLimit('glare-luminance', 1, 'client')(edited)]) {
    const found = await list(there, job)
    expect(found.findings.length).toBeGreaterThan(2)
    expect(found).toEqual(await list(here(), job))
  }
  // Every list is made twice; half a minute on a quiet machine.
}, 300_000)

test('it is given up when the task is', async () => {
  const there = new CheckWork(async () => glare.among([glareCheck]))
  const stop = new AbortController()
  const work = { job: plain, assets: [], profile: null }
  const progress = (_: number, what: string): void => {
    if (what.startsWith('glare,')) stop.abort()
  }
  await expect(there.check(file, work, { signal: stop.signal, progress })).rejects.toBeInstanceOf(Cancelled)
  // The thread is there for the next one.
  expect(await list(there, plain)).toEqual(await list(here(), plain))
})
