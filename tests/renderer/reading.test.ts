import { describe, expect, it } from 'vitest'
import type { Art } from '../../core/art/layer.ts'
import { BadInput } from '../../core/base/finding.ts'
import type { ImportedArt } from '../../core/host/art.ts'
import type { ArtReading } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { keepRead } from '../../renderer/state/keep-read.ts'
import { type Desk, openRecent } from '../../renderer/state/open.ts'
import { readAnew } from '../../renderer/state/reading.ts'
import { firstState } from '../../renderer/state/state.ts'
import { redo, undo, unsaved } from '../../renderer/state/steps.ts'
import { createStore } from '../../renderer/state/store.ts'
import { lately } from '../support/fake-desk.ts'
import { chartArt, fakeHost } from '../support/fake-host.ts'

const sha256 = 'ab'.repeat(32)

/** A page of 50.8 × 25.4 mm as it is read. */
function drawn({ ppi = 300, readAs = 'inks' }: ArtReading): Art {
  return {
    ...chartArt,
    format: 'PDF',
    width: 2 * ppi,
    height: ppi,
    resolutionPpi: ppi,
    page: {
      number: 1,
      count: 1,
      sizeMm: [50.8, 25.4],
      trim: null,
      bleed: null,
      fonts: [],
      inexact: [],
      readAs,
    },
  }
}

/** A window with such a page on the table, and how it was read, time after time. */
async function table() {
  const readings: ArtReading[] = []
  const host = fakeHost({
    over: {
      importArt: async ({ fileId, reading }): Promise<ImportedArt> => {
        readings.push(reading)
        if (reading.ppi === 2400)
          throw new BadInput('page-too-large', 'front.pdf', 'the page', 'is large', 'Less.')
        const art = drawn(reading)
        return {
          fileId,
          art,
          sha256,
          state: null,
          assigned: [],
          findings: [],
          job: newJob(art, sha256, 'front.pdf', [], reading),
        }
      },
    },
  })
  const none = async () => []
  const desk: Desk = {
    store: createStore(firstState),
    host,
    page: { pick: async () => null, pickArt: none, pickAsset: none, download: () => undefined },
    windowId: 'window',
  }
  openRecent(desk, lately({ id: 'art', name: 'front.pdf', kind: 'art' }))
  await expect.poll(() => desk.store.get().job).not.toBeNull()
  return {
    desk,
    readings,
    state: () => desk.store.get(),
    width: () => desk.store.get().session.art?.art.width,
  }
}

describe('art that is drawn', () => {
  it('is read finer as one step, which is taken back and done again, and the art is read each time', async () => {
    const { desk, readings, state, width } = await table()
    const stop = keepRead(desk)
    expect(unsaved(state())).toBe(false)
    await readAnew(desk, { ppi: 600 })
    expect(width()).toBe(1200)
    expect(state().job?.art).toEqual({ path: 'front.pdf', sha256, ppi: 600 })
    expect(state().session.history.past).toHaveLength(1)
    expect(unsaved(state())).toBe(true)

    desk.store.set(undo)
    await expect.poll(width).toBe(600)
    expect(state().job?.art?.ppi).toBeUndefined()
    expect(unsaved(state())).toBe(false)
    desk.store.set(redo)
    await expect.poll(width).toBe(1200)
    expect(state().session.history.past).toHaveLength(1)
    expect(readings.map(({ ppi }) => ppi)).toEqual([undefined, 600, undefined, 600])
    stop()
  })

  it('is read by layer and by ink, and in the usual manner nothing is noted', async () => {
    const { desk, readings, state } = await table()
    await readAnew(desk, { readAs: 'layers' })
    expect(state().session.art?.art.page?.readAs).toBe('layers')
    await readAnew(desk, { readAs: 'inks' })
    expect(readings).toEqual([{}, { readAs: 'layers' }, {}])
    expect(state().job?.art).toEqual({ path: 'front.pdf', sha256 })
  })

  it('stays as it is where it cannot be read so, and the reason is said', async () => {
    const { desk, state, width } = await table()
    const before = state().job
    await readAnew(desk, { ppi: 2400 })
    expect(state().job).toBe(before)
    expect(width()).toBe(600)
    expect(state().session.message?.text).toContain('is large')
  })

  it('is not read again in the manner that it was', async () => {
    const { desk, readings } = await table()
    await readAnew(desk, { ppi: 300 })
    expect(readings).toHaveLength(1)
  })
})
