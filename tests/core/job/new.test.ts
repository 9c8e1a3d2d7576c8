import { describe, expect, test } from 'vitest'
import { foundRoles, newJob } from '../../../core/job/new.ts'
import { checkJob } from '../../../core/job/parse.ts'
import { plainArt } from '../../support/job.ts'

const sha256 = '0'.repeat(64)

describe('newJob', () => {
  test('takes the finished size from the resolution', () => {
    // 1200 px and 600 px at 300 ppi are 4 in and 2 in of 25.4 mm.
    expect(newJob(plainArt, sha256, 'front.psd', []).panel).toEqual({
      widthMm: 101.6,
      heightMm: 50.8,
      resolutionPpi: 300,
    })
  })

  test('assumes 300 ppi where the file says nothing', () => {
    expect(newJob({ ...plainArt, resolutionPpi: null }, sha256, 'front.psd', []).panel.widthMm).toBe(101.6)
  })

  test.each([
    [1, 1, 300],
    [300_000, 300_000, 10],
    [300_000, 1, 72],
    [30_000, 20_000, 1200],
  ])('%i × %i px at %i ppi give a job that is read again and a map that fits', (width, height, ppi) => {
    const job = newJob({ ...plainArt, width, height, resolutionPpi: ppi }, sha256, 'a/front.psd', [])
    expect(checkJob(job, 'x.json')).toEqual(job)
    const { widthMm, heightMm, resolutionPpi } = job.panel
    // Millimetres are rounded to 0.001 and not below 0.01.
    expect((widthMm / 25.4) * (heightMm / 25.4) * resolutionPpi ** 2).toBeLessThanOrEqual(24e6 * 1.0001)
  })

  test('records what the rules found, by name', () => {
    const channels = [
      { id: 'c5', name: 'White 1', kind: 'spot', ink: null, opacity: null, plane: 4 },
    ] as const
    const assigned = [
      {
        target: { kind: 'channel', id: 'c5' },
        role: 'white',
        reason: 'name has "white"',
        by: 'rule',
        amount: { from: 'plane' },
        askAmount: false,
        amountReason: '',
      },
    ] as const
    expect(foundRoles({ ...plainArt, channels }, assigned)).toEqual([
      { target: { kind: 'channel', id: 'c5' }, name: 'White 1', role: 'white' },
    ])
  })
})
