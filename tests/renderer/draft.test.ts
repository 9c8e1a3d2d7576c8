import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { keepDrafts, windowId } from '../../renderer/state/draft.ts'
import { dropDraft, openDraft, start } from '../../renderer/state/open.ts'
import { save } from '../../renderer/state/save.ts'
import { decide, undo, unsaved } from '../../renderer/state/steps.ts'

import { fakeDesk } from '../support/fake-desk.ts'
import { chartArt } from '../support/fake-host.ts'

/** Our own rules, no outside source. */

beforeEach(() => {
  vi.useFakeTimers({ shouldAdvanceTime: true })
})
afterEach(() => {
  vi.useRealTimers()
})

const brief = (text: string) => (job: Job) => ({ ...job, brief: text })

function desk(drafts = new Map<string, Job>()) {
  const made = fakeDesk({ drafts })
  keepDrafts(made, made.windowId)
  return { ...made, drafts, session: () => made.store.get().session }
}

async function withJob(d: ReturnType<typeof desk>) {
  await start(d)
  const { openDemo } = await import('../../renderer/state/open.ts')
  openDemo(d)
  await vi.waitFor(() => expect(d.store.get().job).not.toBeNull())
}

describe('unsaved work', () => {
  it('is kept a moment after a change, and no longer when the change is undone or saved', async () => {
    const d = desk()
    await withJob(d)
    await vi.advanceTimersByTimeAsync(5000)
    expect(d.drafts.size).toBe(0)
    d.store.set(state => decide(state, brief('Quiet')))
    await vi.advanceTimersByTimeAsync(1000)
    expect(d.drafts.get('window')?.brief).toBe('Quiet')
    d.store.set(undo)
    await vi.advanceTimersByTimeAsync(1000)
    expect(d.drafts.size).toBe(0)
    d.store.set(state => decide(state, brief('Loud')))
    await vi.advanceTimersByTimeAsync(1000)
    expect(d.drafts.size).toBe(1)
    await save(d)
    await vi.advanceTimersByTimeAsync(1000)
    expect(d.drafts.size).toBe(0)
  })

  it('a drag that never rests is kept all the same', async () => {
    const d = desk()
    await withJob(d)
    for (let i = 0; i < 60; i++) {
      d.store.set(state => decide(state, brief(`Step ${i}`), 'drag'))
      await vi.advanceTimersByTimeAsync(100)
    }
    expect(d.drafts.get('window')?.brief).toMatch(/^Step \d+$/)
  })

  it('is offered at the next start, taken up as unsaved, or thrown away', async () => {
    const job = { ...newJob(chartArt, 'a1'.repeat(32), 'front.psd', []), brief: 'From before' }
    const d = desk(new Map([['earlier', job]]))
    await start(d)
    expect(d.session().question).toMatchObject({ kind: 'drafts', drafts: [{ id: 'earlier' }] })
    await openDraft(d, 'earlier')
    expect(d.store.get().job?.brief).toBe('From before')
    expect(unsaved(d.store.get())).toBe(true)
    await vi.advanceTimersByTimeAsync(1000)
    expect([...d.drafts.keys()]).toEqual(['window'])

    const again = desk(new Map([['earlier', job]]))
    await start(again)
    await dropDraft(again, 'earlier')
    expect(again.session().question).toBeNull()
    expect(again.drafts.size).toBe(0)
  })

  it('a window keeps its name when the page is loaded again', () => {
    const kept = new Map<string, string>()
    const storage = {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => kept.set(key, value),
    } as unknown as Storage
    const id = windowId(storage)
    expect(id).toMatch(/^[A-Za-z0-9_-]{1,64}$/)
    expect(windowId(storage)).toBe(id)
  })
})
