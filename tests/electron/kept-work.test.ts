import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { cartonFor } from '../../core/job/carton.ts'
import { blankJob } from '../../core/job/new.ts'
import { KeptWork } from '../../electron/kept-work.ts'
import { mapInputs } from '../../electron/map-inputs.ts'

/** Our own rules, no outside source. */

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-kept-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const files = () => readdirSync(join(folder, 'kept'))
const plane = (value: number) => ({ map: new Map([['C', new Uint8Array(1000).fill(value)]]), width: 40 })

describe('kept work', () => {
  it('comes back whole for the same inputs, in a later sitting too, and for no others', async () => {
    const first = new KeptWork(folder, 'program 1')
    first.put('map', { ppi: 300 }, plane(7))
    await first.written()
    const later = new KeptWork(folder, 'program 1')
    expect(await later.get('map', { ppi: 300 })).toEqual(plane(7))
    expect(await later.get('map', { ppi: 301 })).toBeNull()
    expect(await later.get('art', { ppi: 300 })).toBeNull()
    expect(await new KeptWork(folder, 'program 2').get('map', { ppi: 300 })).toBeNull()
  })

  it('stays within its bytes: what was not used for longest goes', async () => {
    const kept = new KeptWork(folder, 'program', 3600)
    for (const n of [1, 2, 3]) {
      kept.put('map', n, plane(n))
      await kept.written()
      // Times of files are told to the millisecond at best.
      await new Promise(done => setTimeout(done, 20))
    }
    expect(await kept.get('map', 1)).toEqual(plane(1))
    await new Promise(done => setTimeout(done, 20))
    kept.put('map', 4, plane(4))
    await kept.written()
    expect(files()).toHaveLength(3)
    expect(await kept.get('map', 2)).toBeNull()
    expect(await kept.get('map', 1)).toEqual(plane(1))
    kept.put('map', 5, { data: new Uint8Array(9000) })
    await kept.written()
    expect(await kept.get('map', 5)).toBeNull()
  })

  it('a torn file is no result', async () => {
    const kept = new KeptWork(folder, 'program')
    kept.put('map', 1, plane(1))
    await kept.written()
    writeFileSync(join(folder, 'kept', files()[0] ?? ''), 'RLW1')
    expect(await kept.get('map', 1)).toBeNull()
  })
})

describe('what a map is made from', () => {
  const job = blankJob(60, 90)
  const key = (one: typeof job, sha = 'a') => JSON.stringify(mapInputs(sha, one, []))

  it('is not the light, the pose, the carton, the words; it is everything else', () => {
    expect(key({ ...job, carton: cartonFor(job.panel) })).toBe(key(job))
    expect(key({ ...job, brief: 'x', light: { ...job.light, roomLevel: 0 } })).toBe(key(job))
    expect(key({ ...job, sketch: { whitePart: 0.5 } })).not.toBe(key(job))
    expect(key({ ...job, panel: { ...job.panel, widthMm: 61 } })).not.toBe(key(job))
    expect(key(job, 'b')).not.toBe(key(job))
  })
})
