import { beforeEach, describe, expect, it, vi } from 'vitest'
import { setLight, setPanel } from '../../core/job/edit.ts'
import { putMark, renameMark, setLimit, setMisfit, waive } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { defaultPaths } from '../../core/job/paths.ts'
import { sceneWith } from '../../core/job/scene.ts'
import { wholeView } from '../../core/reference/camera.ts'
import { zoomOn } from '../../renderer/scene/zoom-on.ts'
import { lookAt, pixelOver } from '../../renderer/stage/place.ts'
import { cancelChecks, listNow, outdated, runChecks } from '../../renderer/state/checks.ts'
import { markDrawn, startMarking } from '../../renderer/state/marks.ts'
import { type Desk, openDemo } from '../../renderer/state/open.ts'
import { goBack, showPlace } from '../../renderer/state/shown.ts'
import { firstState, noChecks } from '../../renderer/state/state.ts'
import { begin, decide, look, undo } from '../../renderer/state/steps.ts'
import { waiverOf } from '../support/check-finding.ts'
import { fakeDesk } from '../support/fake-desk.ts'
import { type FakePlan, fakeHost } from '../support/fake-host.ts'

/** Our own rules, no outside source. */

async function desk(plan: FakePlan = {}): Promise<Desk> {
  const made = fakeDesk(plan)
  openDemo(made)
  await vi.waitFor(() => expect(made.store.get().job).not.toBeNull())
  return made
}

const checksOf = ({ store }: Desk) => store.get().session.checks
const jobOf = ({ store }: Desk): Job => {
  const { job } = store.get()
  if (job === null) throw new Error('no job')
  return job
}

describe('a look at the job', () => {
  it('brings a list of the job as it was asked for, and is taken once at a time', async () => {
    const asked = vi.fn()
    const d = await desk({ slowMs: 60 })
    const host: Desk['host'] = Object.assign(
      ((name: string, input: never) => {
        if (name === 'runChecks') asked()
        return d.host(name as never, input)
      }) as unknown as Desk['host'],
      { adopt: d.host.adopt },
    )
    const first = jobOf(d)
    const running = runChecks({ ...d, host })
    await runChecks({ ...d, host })
    d.store.set(state => decide(state, setLight({ roomLevel: 0.5 })))
    await running
    expect(asked).toHaveBeenCalledTimes(1)
    expect(checksOf(d)).toMatchObject({ running: null, failed: null, of: first })
    expect(checksOf(d).list?.findings).toHaveLength(1)
    expect(outdated(checksOf(d), jobOf(d))).toBe(true)
  })

  it('that is given up leaves the list before it', async () => {
    const d = await desk({ slowMs: 100 })
    await runChecks(d)
    const { list } = checksOf(d)
    const again = runChecks(d)
    cancelChecks(d)
    await again
    expect(checksOf(d)).toMatchObject({ list, running: null, failed: null })
  })

  it('that fails says why and leaves the list before it', async () => {
    let fail = false
    const d = await desk()
    const plan = fakeHost({
      over: {
        runChecks: async () => {
          throw new Error('the art is gone')
        },
      },
    })
    const host: Desk['host'] = Object.assign(
      ((name: never, input: never) => (fail ? plan : d.host)(name, input)) as unknown as Desk['host'],
      { adopt: d.host.adopt },
    )
    await runChecks({ ...d, host })
    fail = true
    await runChecks({ ...d, host })
    expect(checksOf(d).failed).toBe('the art is gone')
    expect(checksOf(d).list?.findings).toHaveLength(1)
  })

  it('is of no use to another job: it is stopped, and its list goes nowhere', async () => {
    const d = await desk({ slowMs: 700 })
    const running = runChecks(d)
    const other = blankJob(20, 30)
    d.store.set(state => begin(state, other, other))
    await running
    expect(checksOf(d)).toEqual(noChecks)
    expect((d.host as ReturnType<typeof fakeHost>).asked).toContain('cancel')
  })
})

describe('a list is of an earlier state', () => {
  let d: Desk
  beforeEach(async () => {
    d = await desk()
    await runChecks(d)
  })
  const oldAfter = (edit: (job: Job) => Job): boolean => outdated(checksOf(d), edit(jobOf(d)))

  it.each<[string, (job: Job) => Job]>([
    ['a limit', setLimit('register.trap', 1, 'plant')],
    ['the light', setLight({ roomLevel: 0.5 })],
    ['the size', setPanel({ widthMm: 30, heightMm: 20 })],
    ['a mark', putMark({ name: 'A', kind: 'text', shape: { kind: 'outline', rings: [] } })],
  ])('after another of %s', (_, edit) => expect(oldAfter(edit)).toBe(true))

  it.each<[string, (job: Job) => Job]>([
    ['a waiver', waive(waiverOf('key'))],
    ['how plates lie in the picture', setMisfit('white', { xMm: 0.4 })],
    ['the brief', job => ({ ...job, brief: 'Quiet' })],
    ['how the panel is held', job => look({ ...d.store.get(), job }, { exposureStops: 1 }).job as Job],
  ])('not after another of %s', (_, edit) => expect(oldAfter(edit)).toBe(false))

  it('until the change is undone', () => {
    d.store.set(state => decide(state, setLight({ roomLevel: 0.5 })))
    expect(outdated(checksOf(d), jobOf(d))).toBe(true)
    d.store.set(undo)
    expect(outdated(checksOf(d), jobOf(d))).toBe(false)
  })

  it('and a waiver counts at once', () => {
    const [finding] = checksOf(d).list?.findings ?? []
    if (finding === undefined) throw new Error('nothing found')
    expect(finding.waiver).toBeNull()
    const waived = listNow(checksOf(d), [waiverOf(finding.key), waiverOf('gone')])
    expect(waived?.sums.waived).toBe(1)
    expect(waived?.unused.map(one => one.key)).toEqual(['gone'])
  })
})

describe('a place', () => {
  const job = blankJob(100, 150)
  const state = { ...firstState, job }
  const held = { tiltForwardDeg: 20, tiltSideDeg: -10, turnDeg: 5 }
  const box = { leftMm: 70, bottomMm: 20, rightMm: 80, topMm: 24 }

  it('is held as it says, and the way back leads before the first', () => {
    const closer = { ...state, view: { ...state.view, zoom: { scale: 2, x: 0.1, y: 0 } } }
    const first = showPlace(closer, { key: 'a', title: 'A', box, held })
    expect(first.job?.view.pose).toEqual(held)
    const second = showPlace(first, { key: 'b', title: 'B', box, held: null })
    expect(second.view.shown?.key).toBe('b')
    const back = goBack(second)
    expect(back.job?.view.pose).toEqual(job.view.pose)
    expect(back.view).toMatchObject({ zoom: closer.view.zoom, shown: null })
  })

  it('stands under the lamps that the checks knew, and the way back leads into the light run', () => {
    const running = {
      ...state,
      job: { ...job, paths: defaultPaths },
      view: { ...state.view, run: { ...state.view.run, timeS: 0.7, playing: true } },
    }
    const there = showPlace(running, { key: 'a', title: 'A', box, held })
    expect(there.job).toEqual({ ...running.job, view: { ...job.view, pose: held } })
    expect(there.view.run).toMatchObject({ timeS: null, playing: false })
    const back = goBack(there)
    expect(back.job).toEqual(running.job)
    expect(back.view.run).toMatchObject({ timeS: 0.7, playing: false })
    // A place that is held in no way of its own is looked at while the run goes on.
    expect(showPlace(running, { key: 'a', title: 'A', box, held: null }).view.run.playing).toBe(true)
  })

  it('comes into the middle of the table that no sheet covers, and fills a part of it', () => {
    const scene = sceneWith(job, job.light.lamps[0].pose, held)
    const whole = lookAt(scene, job.panel, wholeView, 1000, 600)
    const zoom = zoomOn(whole, box, 400)
    if (zoom === null) throw new Error('no view of the place')
    const near = lookAt(scene, job.panel, zoom, 1000, 600)
    const corners = [
      pixelOver(near, box.leftMm, box.bottomMm),
      pixelOver(near, box.rightMm, box.topMm),
      pixelOver(near, box.leftMm, box.topMm),
      pixelOver(near, box.rightMm, box.bottomMm),
    ].filter(one => one !== null)
    const span = (axis: 0 | 1) => [
      Math.min(...corners.map(one => one[axis])),
      Math.max(...corners.map(one => one[axis])),
    ]
    const [left = 0, right = 0] = span(0)
    const [top = 0, bottom = 0] = span(1)
    expect((left + right) / 2).toBeCloseTo(300, 0)
    expect((top + bottom) / 2).toBeCloseTo(300, 0)
    expect(right - left).toBeCloseTo(240, 0)
  })

  it('that is as large as the panel is looked at from no farther than the whole', () => {
    const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
    const whole = lookAt(scene, job.panel, wholeView, 1000, 600)
    expect(zoomOn(whole, { leftMm: 0, bottomMm: 0, rightMm: 100, topMm: 150 }, 0)?.scale).toBe(1)
  })
})

describe('a mark', () => {
  const ring = [
    [10, 10],
    [30, 10],
    [30, 20],
    [10, 20],
  ] as const

  it('is drawn for the checks and not as an area of holography; a rectangle stays one', () => {
    const state = { ...firstState, job: blankJob(100, 150) }
    const drawn = markDrawn(startMarking(state, 'code', 'rectangle'), ring)
    expect(drawn.job?.marked).toEqual([
      {
        name: 'Code 1',
        kind: 'code',
        shape: { kind: 'box', box: { leftMm: 10, bottomMm: 10, rightMm: 30, topMm: 20 } },
      },
    ])
    expect(drawn.job?.outlines).toEqual([])
    expect(drawn.view).toMatchObject({ drawing: null, marking: null, sheet: 'checks' })
    const next = markDrawn(startMarking(drawn, 'code', 'polygon'), ring)
    expect(next.job?.marked[1]).toMatchObject({ name: 'Code 2', shape: { kind: 'outline', rings: [ring] } })
    expect(undo(next).job?.marked).toHaveLength(1)
  })

  it('keeps its name when the other one is taken or empty', () => {
    const mark = (name: string) => putMark({ name, kind: 'text', shape: { kind: 'outline', rings: [ring] } })
    const job = mark('B')(mark('A')(blankJob(10, 10)))
    const names = (now: Job) => now.marked.map(one => one.name)
    expect(names(renameMark('A', 'C')(job))).toEqual(['C', 'B'])
    expect(renameMark('A', 'B')(job)).toBe(job)
    expect(renameMark('A', ' ')(job)).toBe(job)
  })
})
