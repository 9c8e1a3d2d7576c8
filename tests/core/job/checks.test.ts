import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { type MarkedArea, markedBox, movedMark } from '../../../core/checks/marked.ts'
import {
  clearLimit,
  putMark,
  removeMark,
  setLimit,
  setMisfit,
  unwaive,
  waive,
} from '../../../core/job/edit-checks.ts'
import type { Job } from '../../../core/job/job.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { inRegister, misfitOf } from '../../../core/job/register.ts'
import { mapInputs } from '../../../electron/map-inputs.ts'
import { plainJob } from '../../support/job.ts'

const edited = (job: Job, ...edits: readonly ((job: Job) => Job)[]) =>
  edits.reduce((now, edit) => edit(now), job)

const waiver = { key: 'legibility-lost:text "Comet"', reason: 'a caption', by: 'I. Halden', on: '2026-03-31' }
const title: MarkedArea = {
  name: 'Title',
  kind: 'text',
  shape: { kind: 'box', box: { leftMm: 2, bottomMm: 3, rightMm: 40, topMm: 9 } },
}
const stars: MarkedArea = {
  name: 'Stars',
  kind: 'plain',
  shape: {
    kind: 'outline',
    rings: [
      [
        [1, 2],
        [5, 2],
        [3, 8],
      ],
    ],
  },
}

describe('what a job says to its checks', () => {
  const job = edited(
    plainJob,
    setLimit('text-contrast', 3, 'Halden house rule 4'),
    waive(waiver),
    putMark(title),
    putMark(stars),
    setMisfit('white', { xMm: 0.2, turnDeg: -0.1 }),
  )

  test('comes back as it was written', () => {
    expect(parseJob(jobText(job), 'x.json')).toEqual(job)
  })

  test('a job saved before there were checks opens with none of it', () => {
    const text = readFileSync(new URL('../../fixtures/job-v3.json', import.meta.url), 'utf8')
    const old = JSON.parse(text) as Job
    expect(Object.keys(old)).not.toContain('limits')
    expect(parseJob(text, 'job-v3.json')).toEqual({
      ...old,
      limits: {},
      waivers: [],
      marked: [],
      register: {},
      madeWhite: null,
    })
  })

  test('limits, kinds and groups of a later version are kept', () => {
    const later = {
      ...plainJob,
      limits: { 'moon-phase': { value: -4, note: 'observatory' } },
      marked: [{ ...title, kind: 'braille' }],
      register: { varnish: { ...inRegister, yMm: 0.3 } },
    }
    expect(parseJob(jobText(checkJob(later, 'x.json')), 'x.json')).toEqual(later)
  })

  test('moves no map: what was built stays good', () => {
    expect(mapInputs('', job, [])).toEqual(mapInputs('', plainJob, []))
  })

  const box = { leftMm: 5, bottomMm: 0, rightMm: 5, topMm: 1 }
  test.each([
    ['limits', { contrast: 3 }, 'limits.contrast'],
    ['limits', { contrast: { value: '3', note: '' } }, 'limits.contrast.value'],
    ['waivers', [{ ...waiver, reason: '' }], 'waivers.0.reason'],
    ['waivers', [{ ...waiver, by: '' }], 'waivers.0.by'],
    ['waivers', [{ ...waiver, on: 'yesterday' }], 'waivers.0.on'],
    ['waivers', [waiver, waiver], 'waivers'],
    ['marked', [title, title], 'marked'],
    ['marked', [{ ...title, kind: '' }], 'marked.0.kind'],
    ['marked', [{ ...title, shape: { kind: 'box', box } }], 'marked.0.shape.box'],
    ['marked', [{ ...title, shape: { kind: 'outline', rings: [] } }], 'marked.0.shape.rings'],
    ['register', { white: { ...inRegister, xMm: 21 } }, 'register.white.xMm'],
    ['register', { white: { ...inRegister, turnDeg: Number.NaN } }, 'register.white.turnDeg'],
  ])('%s of %j is refused', (field, value, where) => {
    expect(() => checkJob({ ...plainJob, [field]: value }, 'x.json')).toThrow(`field "${where}"`)
  })
})

describe('edits', () => {
  test('a limit needs a note of whose it is, and goes back to the usual', () => {
    expect(setLimit('a', 1, '  ')(plainJob)).toBe(plainJob)
    const set = edited(plainJob, setLimit('a', 1, ' plant '), setLimit('b', 2, 'client'))
    expect(set.limits).toEqual({ a: { value: 1, note: 'plant' }, b: { value: 2, note: 'client' } })
    expect(clearLimit('a')(set).limits).toEqual({ b: { value: 2, note: 'client' } })
  })

  test('a waiver needs reason and name, replaces the one before, and can be taken back', () => {
    expect(waive({ ...waiver, reason: ' ' })(plainJob)).toBe(plainJob)
    expect(waive({ ...waiver, by: '' })(plainJob)).toBe(plainJob)
    const twice = edited(plainJob, waive(waiver), waive({ ...waiver, reason: 'client agreed' }))
    expect(twice.waivers).toEqual([{ ...waiver, reason: 'client agreed' }])
    expect(unwaive(waiver.key)(twice)).toEqual(plainJob)
  })

  test('a marked area is changed in its place and taken away by name', () => {
    const two = edited(plainJob, putMark(title), putMark(stars), putMark({ ...title, kind: 'code' }))
    expect(two.marked).toEqual([{ ...title, kind: 'code' }, stars])
    expect(removeMark('Title')(two).marked).toEqual([stars])
    expect(two.marked.map(markedBox)).toEqual([
      { leftMm: 2, bottomMm: 3, rightMm: 40, topMm: 9 },
      { leftMm: 1, bottomMm: 2, rightMm: 5, topMm: 8 },
    ])
    expect(markedBox({ shape: { kind: 'outline', rings: [[]] } })).toBeNull()
    expect([title, stars].map(area => markedBox(movedMark(area, 10, -1)))).toEqual([
      { leftMm: 12, bottomMm: 2, rightMm: 50, topMm: 8 },
      { leftMm: 11, bottomMm: 1, rightMm: 15, topMm: 7 },
    ])
  })

  test('a group moved back to its design is as if it had never moved', () => {
    const moved = setMisfit('die', { xMm: 0.5 })(plainJob)
    expect(misfitOf(moved.register, 'die')).toEqual({ ...inRegister, xMm: 0.5 })
    expect(misfitOf(moved.register, 'white')).toBe(inRegister)
    expect(setMisfit('die', { xMm: 0 })(moved)).toEqual(plainJob)
  })
})
