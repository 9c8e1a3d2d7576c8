import { describe, expect, it, vi } from 'vitest'
import { BadInput } from '../../core/base/finding.ts'
import { setRole } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import { keepBuilt } from '../../renderer/state/build.ts'
import {
  type Desk,
  openByDialog,
  openDropped,
  openRecent,
  pickArt,
  readOutside,
  relink,
  start,
} from '../../renderer/state/open.ts'
import { answerUnsaved, jobName, save } from '../../renderer/state/save.ts'
import { decide, undo, unsaved } from '../../renderer/state/steps.ts'
import { fakeDesk, lately } from '../support/fake-desk.ts'
import { chartArt, type FakePlan, fakeHost } from '../support/fake-host.ts'

const artRef = { id: 'art', name: chartArt.name, kind: 'art' } as const
const jobRef = { id: 'job', name: 'front.job.json', kind: 'job' } as const
const white = setRole({ kind: 'layer', id: '8' }, 'white', null)
const jobOf = (sha256: string): Job => newJob(chartArt, sha256, 'art/front.psd', [])

/** A page where the user picks the art, or the job. */
function desk(plan: FakePlan = {}) {
  const fake = fakeDesk(plan)
  const picked = (what: string) => new File([], what === 'art' ? chartArt.name : 'front.job.json')
  const page = {
    ...fake.page,
    pick: async (what: string) => picked(what),
    pickArt: async (what: string) => [picked(what)],
  }
  const made = { ...fake, page, session: () => fake.store.get().session }
  return { ...made, until: (done: () => boolean) => until(made, done) }
}

/** Waits for a state. */
async function until({ store }: Desk, done: () => boolean): Promise<void> {
  await vi.waitFor(
    () => {
      if (!done())
        throw new Error(`expected state did not come; message: ${store.get().session.message?.text}`)
    },
    { timeout: 30_000, interval: 10 },
  )
}

describe('opening', () => {
  it('art gives a job, roles, and then a map', async () => {
    const d = desk()
    const stop = keepBuilt(d.store, d.host)
    openByDialog(d)
    await d.until(() => d.session().built !== null && !d.session().stale)
    expect(d.store.get().job?.art?.sha256).toBe('a1'.repeat(32))
    expect(d.session().art?.assigned.length).toBe(chartArt.layers.length + chartArt.channels.length)
    expect(unsaved(d.store.get())).toBe(false)
    stop()
  })

  it('what the command line named is opened at the start', async () => {
    const about = async () => ({ version: '1', shell: 'desktop', files: 'dialog', start: artRef }) as const
    const d = desk({ over: { about } })
    await start(d)
    expect(d.session().art?.file.name).toBe(chartArt.name)
  })

  it('a cancelled import leaves everything as it was', async () => {
    const d = desk({ slowMs: 400 })
    openRecent(d, lately(artRef))
    await d.until(() => d.session().work !== null)
    await d.host('cancel', { taskId: d.session().work?.taskId ?? '' })
    await d.until(() => d.session().work === null)
    expect(d.store.get().job).toBeNull()
    expect(d.session().message).toBeNull()
  })

  it('shows the progress that the host reports', async () => {
    const d = desk({ slowMs: 1000 })
    openRecent(d, lately(artRef))
    await d.until(() => (d.session().work?.done ?? 0) > 0.2)
    expect(d.session().work).toMatchObject({ title: `Reading ${chartArt.name}`, what: 'layer 3 of 9' })
    await d.host('cancel', { taskId: d.session().work?.taskId ?? '' })
  })

  it('art of several files comes with all of them from the list of those opened lately', async () => {
    const asked: unknown[] = []
    const d = desk({
      over: {
        importArt: async ({ fileId, besideIds }) => {
          asked.push([fileId, besideIds])
          throw new BadInput('cut', 'front.psd', 'byte 26', 'the file ends', 'Save it again.')
        },
      },
    })
    openRecent(d, { ...lately(artRef), beside: [{ id: 'white', name: 'front (White).png', kind: 'art' }] })
    await d.until(() => d.session().message !== null)
    expect(asked).toEqual([['art', ['white']]])
  })

  it('a broken file says so in one line, and what was open stays open', async () => {
    const d = desk()
    openRecent(d, lately(artRef))
    await d.until(() => d.store.get().job !== null)
    const before = d.store.get().job
    const broken = desk({
      over: {
        importArt: async () => {
          throw new BadInput(
            'cut',
            'front.psd',
            'byte 26',
            'expected 4 bytes, the file ends',
            'Save it again.',
          )
        },
      },
    })
    openRecent({ ...broken, store: d.store }, lately(artRef))
    await d.until(() => d.session().message !== null)
    expect(d.session().message).toEqual({
      tone: 'error',
      text: 'front.psd: byte 26: expected 4 bytes, the file ends. Save it again.',
    })
    expect(d.store.get().job).toBe(before)
  })

  it('unsaved decisions are asked about before other art is laid over them', async () => {
    const d = desk()
    openRecent(d, lately(artRef))
    await d.until(() => d.store.get().job !== null)
    d.store.set(state => decide(state, white))
    openRecent(d, lately(artRef))
    expect(d.session().question?.kind).toBe('unsaved')
    await answerUnsaved(d, 'stay')
    expect(d.store.get().job?.roles).toHaveLength(1)
    openRecent(d, lately(artRef))
    await answerUnsaved(d, 'save')
    await d.until(() => d.store.get().job?.roles.length === 0)
    expect(d.host.saved.get('saved')?.roles).toHaveLength(1)
  })
})

describe('jobs and their art', () => {
  const missing = (sha256: string): FakePlan => ({
    sha256,
    over: {
      openJob: async () => ({
        file: jobRef,
        name: jobRef.name,
        job: jobOf('b2'.repeat(32)),
        art: { state: 'missing', path: 'art/front.psd' },
      }),
    },
  })

  it('missing art is asked for, and taken when it is the same', async () => {
    const d = desk(missing('b2'.repeat(32)))
    openRecent(d, lately(jobRef))
    await d.until(() => d.session().question !== null)
    const { question } = d.session()
    if (question?.kind !== 'art') throw new Error(`asked ${question?.kind}`)
    await pickArt(d, question.opened)
    expect(d.store.get().job?.art?.path).toBe('art/front.psd')
    expect(d.session().jobFile).toEqual(jobRef)
    expect(unsaved(d.store.get())).toBe(false)
  })

  it('other art is not taken without a second word, and then counts as a change', async () => {
    const d = desk(missing('c3'.repeat(32)))
    openRecent(d, lately(jobRef))
    await d.until(() => d.session().question !== null)
    const first = d.session().question
    if (first?.kind !== 'art') throw new Error(`asked ${first?.kind}`)
    await pickArt(d, first.opened)
    const second = d.session().question
    if (second?.kind !== 'otherArt') throw new Error(`asked ${second?.kind}`)
    expect(d.store.get().job).toBeNull()
    await relink(d, second.opened, second.picked, [], true)
    expect(d.store.get().job?.art?.sha256).toBe('c3'.repeat(32))
    expect(unsaved(d.store.get())).toBe(true)
  })

  it('a job and its art dropped together open without a question', async () => {
    const d = desk({ ...missing('b2'.repeat(32)), files: 'upload' })
    openDropped(d, [new File([], chartArt.name), new File([], 'front.job.json')])
    await d.until(() => d.store.get().job !== null)
    expect(d.session().question).toBeNull()
  })

  it('art outside the job’s folder is read only after the user agreed', async () => {
    let agreed = false
    const d = desk({
      over: {
        openJob: async ({ allowOutside }) => {
          agreed = allowOutside
          const state = allowOutside ? ('found' as const) : ('outside' as const)
          return {
            file: jobRef,
            name: jobRef.name,
            job: jobOf('a1'.repeat(32)),
            art: { state, file: artRef },
          }
        },
      },
    })
    openRecent(d, lately(jobRef))
    await d.until(() => d.session().question !== null)
    expect(agreed).toBe(false)
    expect(d.host.asked).not.toContain('importArt')
    const { question } = d.session()
    if (question?.kind !== 'art') throw new Error(`asked ${question?.kind}`)
    await readOutside(d, question.opened)
    expect(agreed).toBe(true)
    expect(d.store.get().job).not.toBeNull()
  })
})

describe('saving', () => {
  it('saves to the host, takes over the path it made, and undo still works', async () => {
    const d = desk({
      over: {
        saveJob: async ({ job }) => ({
          file: jobRef,
          job: { ...(job as unknown as Job), art: { path: '../art/front.psd', sha256: 'a1'.repeat(32) } },
        }),
      },
    })
    openRecent(d, lately(artRef))
    await d.until(() => d.store.get().job !== null)
    d.store.set(state => decide(state, white))
    expect(await save(d)).toBe(true)
    expect(unsaved(d.store.get())).toBe(false)
    expect(d.store.get().job?.art?.path).toBe('../art/front.psd')
    d.store.set(undo)
    expect(d.store.get().job?.art?.path).toBe('../art/front.psd')
    expect(unsaved(d.store.get())).toBe(true)
  })

  it('a dismissed dialog saves nothing', async () => {
    const d = desk({ over: { saveJob: async () => null } })
    openRecent(d, lately(artRef))
    await d.until(() => d.store.get().job !== null)
    d.store.set(state => decide(state, white))
    expect(await save(d)).toBe(false)
    expect(unsaved(d.store.get())).toBe(true)
  })

  it('a page without dialogs downloads the job and says so', async () => {
    const d = desk({ files: 'upload' })
    await start(d)
    openByDialog(d)
    await d.until(() => d.store.get().job !== null)
    d.store.set(state => decide(state, white))
    await save(d)
    expect(d.downloads[0]?.name).toBe(d.session().jobFile?.name ?? jobName(chartArt.name))
    expect(JSON.parse(String(d.downloads[0]?.content))).toEqual(d.store.get().job)
    expect(d.session().message?.text).toContain('downloads')
    expect(unsaved(d.store.get())).toBe(false)
  })
})

describe('the map on the table', () => {
  it('is rebuilt for a role, and not for a tilt or the lamp', async () => {
    const d = desk()
    const stop = keepBuilt(d.store, d.host)
    openRecent(d, lately(artRef))
    await d.until(() => d.session().built !== null && !d.session().stale)
    const builds = () => d.host.asked.filter(name => name === 'buildMap').length
    const before = builds()
    const { job } = d.store.get()
    if (job === null) throw new Error('no job')
    d.store.set(state => decide(state, now => ({ ...now, light: { ...now.light, roomLevel: 0.3 } })))
    expect(d.session().stale).toBe(false)
    d.store.set(state => decide(state, white))
    expect(d.session().stale).toBe(true)
    await d.until(() => !d.session().stale)
    expect(builds()).toBe(before + 1)
    const role = d.session().art?.assigned.find(one => one.target.id === '8')
    expect(role).toMatchObject({ role: 'white', by: 'job' })
    stop()
  })

  it('a failure is said and the map that lies there stays', async () => {
    let fail = false
    const usual = fakeHost()
    const d = desk({
      over: {
        buildMap: async input => {
          if (fail) throw new BadInput('too-big', 'job', 'panel.resolutionPpi', 'needs 9 GB', 'Lower it.')
          return usual('buildMap', input)
        },
      },
    })
    const stop = keepBuilt(d.store, d.host)
    openRecent(d, lately(artRef))
    await d.until(() => d.session().built !== null)
    const { built } = d.session()
    fail = true
    d.store.set(state => decide(state, white))
    await d.until(() => d.session().message !== null)
    expect(d.session().message?.text).toContain('Lower it.')
    expect(d.session().built).toBe(built)
    stop()
  })

  describe('and a first look', () => {
    const look = (n: number): FirstLook => ({ level: n, reached: Int32Array.from([n]), planes: new Map() })
    /** A host that has a first look of every edit, and what it was asked for, in order. */
    async function looked(answer: () => Promise<void> = async () => undefined) {
      const usual = fakeHost()
      const asked: { readonly soon: boolean; readonly job: string }[] = []
      let n = 0
      const d = desk({
        over: {
          buildMap: async input => {
            asked.push({ soon: input.soon, job: JSON.stringify(input.job) })
            const built = await usual('buildMap', input)
            if (!input.soon) {
              await answer()
              return built
            }
            return { ...built, shown: { kind: 'look', look: look(++n) } }
          },
        },
      })
      const stop = keepBuilt(d.store, d.host)
      openRecent(d, lately(artRef))
      await d.until(() => d.session().built !== null && !d.session().stale)
      asked.length = 0
      const looks: (FirstLook | null)[] = []
      d.store.listen(() => {
        const now = d.session().built?.look ?? null
        if (now !== (looks.at(-1) ?? null)) looks.push(now)
      })
      return { d, asked, looks, stop }
    }

    it('is shown over the map that lies there until the next comes, which takes its place', async () => {
      const { d, asked, looks, stop } = await looked()
      const before = d.session().built
      d.store.set(state => decide(state, white))
      await d.until(() => d.session().built?.look != null)
      expect(d.session().built?.levels).toBe(before?.levels)
      expect(d.session().stale).toBe(true)
      await d.until(() => !d.session().stale)
      expect(d.session().built?.look).toBeNull()
      expect(d.session().built?.levels).not.toBe(before?.levels)
      expect(asked.map(one => one.soon)).toEqual([true, false])
      expect(asked[0]?.job).toBe(asked[1]?.job)
      expect(looks.map(one => one?.level)).toEqual([1, undefined])
      stop()
    })

    it('is followed by that of the next edit, and the map between them is never asked for', async () => {
      const { d, asked, looks, stop } = await looked()
      d.store.set(state => decide(state, white))
      await d.until(() => d.session().built?.look?.level === 1)
      d.store.set(undo)
      await d.until(() => !d.session().stale)
      expect(asked.map(one => one.soon)).toEqual([true, true, false])
      expect(asked[0]?.job).not.toBe(asked[1]?.job)
      expect(looks.map(one => one?.level)).toEqual([1, 2, undefined])
      stop()
    })

    it('does not stay when the map is not made after it', async () => {
      let fails = false
      const { d, looks, stop } = await looked(async () => {
        if (fails) throw new BadInput('too-big', 'job', 'panel.resolutionPpi', 'needs 9 GB', 'Lower it.')
      })
      fails = true
      d.store.set(state => decide(state, white))
      await d.until(() => d.session().message !== null && d.session().built?.look === null)
      expect(looks.map(one => one?.level)).toEqual([1, undefined])
      stop()
    })
  })
})
