import { describe, expect, test } from 'vitest'
import { Cancelled } from '../../core/base/task.ts'
import { usualContact } from '../../core/export/stills/wish.ts'
import { KeptTables } from '../../electron/kept-tables.ts'
import { JobPictures, makeStills } from '../../electron/picture-work.ts'
import { plainJob } from '../support/job.ts'
import { paintMap } from '../support/paint-map.ts'

const map = paintMap(
  { size: 24, sideMm: 30, gratings: 1, whites: [], spots: [], varnish: false },
  (x, y) => ({
    metal: 1,
    cmyk: [0, Math.abs(x), 0, Math.max(0, y)],
  }),
)
const job = { ...plainJob, panel: { ...plainJob.panel, widthMm: 30, heightMm: 30 } }
const wish = {
  what: ['contact', 'shown'] as const,
  format: { kind: 'png', depth: 8 } as const,
  width: 20,
  height: 20,
  contact: { ...usualContact, cellWidth: 16, cellHeight: 16 },
}
const names = { stem: 'comet', software: 'rakelight 1' }
const pictures = new JobPictures(map, job, new KeptTables())

describe('pictures of a job', () => {
  test('are named after it and what they show, and progress goes up to the end', () => {
    const told: number[] = []
    const files = makeStills(job, wish, null, pictures, names, { progress: done => told.push(done) })
    expect(files.map(({ name }) => name)).toEqual(['comet-contact.png', 'comet-as-shown.png'])
    expect(told).toEqual([...told].sort((a, b) => a - b))
    expect(told.at(-1)).toBeGreaterThan(0.9)
    expect(told.at(-1)).toBeLessThanOrEqual(1)
  })

  test('told to stop in the middle, nothing comes out', () => {
    let looks = 0
    const signal = {
      get aborted() {
        looks++
        return looks > 10
      },
    } as AbortSignal
    expect(() => makeStills(job, wish, null, pictures, names, { signal })).toThrow(Cancelled)
    expect(looks).toBe(11)
  })
})
