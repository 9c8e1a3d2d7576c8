import { expect, test } from 'vitest'
import { Cancelled } from '../../core/base/task.ts'
import { panelOf } from '../../core/carton/blank.ts'
import type { CheckInput, CheckPart } from '../../core/checks/input.ts'
import { cartonFor } from '../../core/job/carton.ts'
import { cartonJob } from '../../core/job/carton-job.ts'
import { setCarton, setForm, setLight } from '../../core/job/edit.ts'
import { putMark, setLimit, waive } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { blankFor, type JobWork } from '../../electron/art-work.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { checkFinding, waiverOf } from '../support/check-finding.ts'
import { lensJob, lensSize } from '../support/lens-art.ts'

/** What the parts were given, one entry a run. */
function listening(): { readonly part: CheckPart; readonly heard: CheckInput[] } {
  const heard: CheckInput[] = []
  const part: CheckPart = {
    name: 'codes',
    says: '',
    run: async input => {
      heard.push(input)
      return [checkFinding({ check: 'codes', key: 'code-lost' })]
    },
  }
  return { part, heard }
}

const work = (job: Job): JobWork => ({ job, assets: [], profile: null })

test('a part gets the job as it was worked out', async () => {
  const { part, heard } = listening()
  const { file, job: plain } = await lensJob()
  const area = {
    name: 'Rings',
    kind: 'plain',
    shape: { kind: 'box', box: { leftMm: 0, bottomMm: 0, rightMm: 4, topMm: 4 } },
  } as const
  const [lamp] = plain.light.lamps
  const job = [
    setLight({ lamps: [lamp, { ...lamp, name: 'Shop', illuminant: 'LED-B3' }, { ...lamp, name: 'Third' }] }),
    setLimit('a', 1, 'plant'),
    putMark(area),
    setCarton(cartonFor(plain.panel)),
  ].reduce((now: Job, edit) => edit(now), plain)
  await new CheckWork(async () => [part]).check(file, work(job))
  const [input] = heard
  expect(input).toMatchObject({ art: file.art, file, limits: job.limits, marked: [area] })
  expect([input!.map.width, input!.map.height]).toEqual([lensSize.width, lensSize.height])
  expect(input!.assigned.map(one => one.role)).toContain('holography')
  expect(input!.scene.light).toEqual(job.light)
  // Two spectra among three lamps.
  expect(input!.sets).toHaveLength(2)
  // Art on the front lies with its corner on the front's.
  const front = panelOf(input!.blank!, 'front').outline
  expect(input!.corners.get('front')).toEqual([
    Math.min(...front.map(([x]) => x)),
    Math.min(...front.map(([, y]) => y)),
  ])
})

test('a flat job without art has neither file nor blank', async () => {
  const { part, heard } = listening()
  const job = blankJob(20, 10)
  await new CheckWork(async () => [part]).check(blankFor(job), work(job))
  expect(heard[0]).toMatchObject({ file: null, blank: null, corners: new Map() })
})

test('what was said before any check is in the list, and a carton that cannot be made fails it', async () => {
  const whole = cartonJob({ ...sized, lengthMm: 30, widthMm: 20, heightMm: 40 }, 0.4)
  const job = setForm({ lengthMm: 0 })({ ...whole, panel: { ...whole.panel, resolutionPpi: 20 } })
  const { part, heard } = listening()
  const { list } = await new CheckWork(async () => [part]).check(
    blankFor(job),
    work(waive(waiverOf('code-lost'))(job)),
  )
  expect(heard[0]!.blank).toBeNull()
  expect(list.sums).toMatchObject({ fails: 1, waived: 1 })
  expect(list.findings[0]).toMatchObject({ check: 'preflight', severity: 'error', waiver: null })
  expect(list.findings[0]!.where).toContain('carton')
})

test('progress rises to the end; what an edit reaches is looked at again, and nothing else', async () => {
  const { part: reads, heard } = listening()
  const levels: number[] = []
  const lit: CheckPart = {
    ...reads,
    name: 'glare',
    run: async ({ scene }) => {
      levels.push(scene.light.roomLevel)
      return []
    },
  }
  const { file, job } = await lensJob()
  const checks = new CheckWork(async () => [reads, lit])
  const seen: number[] = []
  await checks.check(file, work(job), { progress: done => seen.push(done) })
  expect(seen.every((done, i) => i === 0 || done >= seen[i - 1]!)).toBe(true)
  expect(seen.at(-1)).toBe(1)
  const { list } = await checks.check(file, work(setLight({ roomLevel: 0.4 })(job)))
  expect(levels).toEqual([0.15, 0.4])
  expect(heard).toHaveLength(1)
  expect(list.findings.map(one => one.key)).toContain('code-lost')
})

test('a job that is given up is not checked', async () => {
  const { part, heard } = listening()
  const { file, job } = await lensJob()
  const signal = AbortSignal.abort()
  await expect(new CheckWork(async () => [part]).check(file, work(job), { signal })).rejects.toThrow(
    Cancelled,
  )
  expect(heard).toEqual([])
})

const sized = {
  from: 'sizes',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'tuck', on: 'front' },
  measure: 'crease',
  own: {},
  code: '',
} as const
