import { expect, test } from 'vitest'
import type { Job } from '../../../core/job/job.ts'
import { jobSchema } from '../../../core/job/schema.ts'
import { jobChanges, sourceChanges, versionChanges } from '../../../core/proof/changes.ts'
import { costWords, fieldCosts, partCosts, roleCosts } from '../../../core/proof/cost.ts'
import { newRecord } from '../../../core/proof/signoff.ts'
import { signedVersion, standing } from '../../../core/proof/standing.ts'
import { type ProofSource, versionOf } from '../../../core/proof/version.ts'
import { roleNames } from '../../../core/roles/role.ts'
import { plainJob } from '../../support/job.ts'

const art: ProofSource = { kind: 'art', name: 'comet.psd', sha256: 'ab'.repeat(32), bytes: 4096 }
const signed = versionOf({
  jobName: 'comet.job.json',
  madeAt: '2026-03-04T09:30:00Z',
  program: '0.1.0',
  data: '3d0d7ece6ae9',
  sources: [art],
  job: plainJob,
})
const after = (change: Partial<Job>) => standing(signed, { job: { ...plainJob, ...change }, sources: [art] })
const costOf = (change: Partial<Job>) => {
  const now = after(change)
  return now.kind === 'stands' ? 'stands' : costWords(now.cost)
}

test('every field of the job and every part of the carton has its cost, with a reason', () => {
  expect(Object.keys(fieldCosts).sort()).toEqual(Object.keys(jobSchema.entries).sort())
  expect(Object.keys(roleCosts).sort()).toEqual([...roleNames].sort())
  for (const { why } of [...Object.values(fieldCosts), ...Object.values(roleCosts)])
    expect(why.length).toBeGreaterThan(10)
  for (const { path } of partCosts) expect(Object.keys(fieldCosts)).toContain(path.split('.')[0])
})

test('a record stands while job and files are what was signed', () => {
  expect(standing(signed, { job: structuredClone(plainJob), sources: [{ ...art }] })).toEqual({
    kind: 'stands',
  })
  expect(signedVersion(newRecord(signed, null), 'record')).toEqual(signed)
})

const hand = plainJob.light.lamps[0]
test.each<[string, Partial<Job>]>([
  ['nothing', { brief: 'A comet over the observatory' }],
  ['nothing', { light: { ...plainJob.light, lamps: [{ ...hand, lux: hand.lux + 1 }] } }],
  ['nothing', { view: { ...plainJob.view, exposureStops: 1 } }],
  ['nothing', { pins: [{ name: 'Spot', xMm: 1, yMm: 1 }] }],
  ['nothing', { panel: { ...plainJob.panel, resolutionPpi: plainJob.panel.resolutionPpi + 50 } }],
  ['nothing', { board: { ...plainJob.board, wavinessMrad: plainJob.board.wavinessMrad + 1 } }],
  ['new master and new plates', { panel: { ...plainJob.panel, widthMm: plainJob.panel.widthMm + 1 } }],
  ['new plates', { whiteInk: { forwardness: 0.123 } }],
  ['new plates', { print: { ...plainJob.print, toneGain: [0.1, 0.1, 0.1, 0.1] } }],
  ['new plates', { board: { ...plainJob.board, varnishRoughness: 0.3 } }],
  ['new master', { outlines: [{ id: 'o', name: 'Ring', rings: [] } as unknown as Job['outlines'][number]] }],
  ['new master', { effects: [] }],
  ['new master and new plates', { nestTurnDeg: 90 }],
  [
    'new master and new plates',
    { effects: [], print: { ...plainJob.print, blackPoint: !plainJob.print.blackPoint } },
  ],
])('an edit supersedes and costs: %s, %#', (cost, change) => {
  const job = { ...plainJob, effects: [{ target: { kind: 'layer', id: '1' }, effect: {} }] } as unknown as Job
  const now = standing({ job, sources: [] }, { job: { ...job, ...change }, sources: [] })
  expect(now.kind === 'stands' ? 'stands' : costWords(now.cost)).toBe(cost)
})

test('a layer that gets another part costs by what it was and what it is', () => {
  const target = { kind: 'layer', id: '7' } as const
  const varnish = { target, role: 'varnish', amount: null } as const
  const set = { roles: [varnish] }
  expect(costOf(set)).toBe('new plates')
  const was = { ...plainJob, found: [{ target, name: 'Rings', role: 'holography' as const }] }
  const touched = standing({ job: was, sources: [] }, { job: { ...was, ...set }, sources: [] })
  expect(touched.kind === 'superseded' && costWords(touched.cost)).toBe('new master and new plates')
  expect(costOf({ roles: [{ ...varnish, role: 'legend' }] })).toBe('nothing')
  expect(costOf({ aliases: [{ word: 'shine', role: 'holography' }] })).toBe('new master')
})

test('changed art costs by the layers that changed, and both where they are not known', () => {
  const now = { job: plainJob, sources: [{ ...art, sha256: 'cd'.repeat(32) }] }
  const cost = (layers: Parameters<typeof standing>[2]) => {
    const found = standing(signed, now, layers)
    return found.kind === 'stands' ? 'stands' : costWords(found.cost)
  }
  expect(cost(null)).toBe('new master and new plates')
  expect(cost(['overprint', 'white'])).toBe('new plates')
  expect(cost(['holography', 'legend'])).toBe('new master')
  expect(cost(['legend'])).toBe('nothing')
})

test('what changed is told in words, a few values a field', () => {
  const lamps = [{ ...hand, lux: 123, pose: { ...hand.pose, azimuthDeg: 77 } }] as const
  expect(jobChanges(plainJob, { ...plainJob, light: { ...plainJob.light, lamps } })).toEqual([
    {
      what: 'light',
      words: `light, lamp 1, pose, azimuth: ${hand.pose.azimuthDeg}° to 77°; light, lamp 1, lux: ${hand.lux} to 123`,
      cost: { master: false, plates: false },
      why: 'light is how it is looked at',
    },
  ])
  const view = { ...plainJob.view, pose: { tiltForwardDeg: 9, tiltSideDeg: 9, turnDeg: 9 } }
  const many = jobChanges(plainJob, {
    ...plainJob,
    view: { ...view, exposureStops: 9, adapt: !view.adapt, eyeDistanceMm: 9999 },
  })
  expect(many[0]?.words).toMatch(/; and \d more$/)
})

test('files are told by what became of them', () => {
  const profile: ProofSource = { kind: 'profile', name: 'press.icc', sha256: 'ef'.repeat(32), bytes: 1 }
  expect(sourceChanges([art], [profile]).map(one => one.words)).toEqual([
    'art "comet.psd" is gone',
    'profile "press.icc" is new',
  ])
  expect(sourceChanges([art], [{ ...art, sha256: 'cd'.repeat(32) }])[0]?.words).toBe(
    'art "comet.psd" has changed',
  )
  const renamed = { ...art, name: 'comet 2.psd' }
  expect(sourceChanges([art], [{ ...renamed, sha256: 'cd'.repeat(32) }])[0]?.words).toBe(
    'art "comet.psd" is now "comet 2.psd"',
  )
  expect(sourceChanges([art], [renamed])).toEqual([])
  // The job's own word of its art says the same once more.
  const job = { ...plainJob, art: { path: 'comet.psd', sha256: 'cd'.repeat(32) } }
  const before = { ...plainJob, art: { path: 'comet.psd', sha256: 'ab'.repeat(32) } }
  const told = versionChanges(
    { job: before, sources: [art] },
    { job, sources: [{ ...art, sha256: 'cd'.repeat(32) }] },
  )
  expect(told.map(one => one.what)).toEqual(['art'])
})
