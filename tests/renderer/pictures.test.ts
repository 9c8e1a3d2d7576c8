import { expect, test } from 'vitest'
import { setStanding, setView } from '../../core/job/edit.ts'
import { putMark, setLimit, setMisfit } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import type { LampPose } from '../../core/reference/scene.ts'
import { isOld, makePicture, picturesOf, stopPicture } from '../../renderer/state/pictures.ts'
import { decide } from '../../renderer/state/steps.ts'
import { openedDesk } from '../support/fake-desk.ts'
import type { FakePlan } from '../support/fake-host.ts'

async function opened(plan: FakePlan = {}) {
  const desk = await openedDesk(plan)
  const job = () => desk.store.get().job!
  return { desk, job, pictures: picturesOf(desk.store) }
}

test('a picture is asked for once, is there, and is old once the job that it is of has changed', async () => {
  const { desk, job, pictures } = await opened()
  const [first, second] = await Promise.all([makePicture(desk, 'slips'), makePicture(desk, 'slips')])
  expect(first).toMatchObject({ groups: ['white', 'colour'] })
  expect(second).toBeNull()
  expect(pictures.get().slips).toMatchObject({ value: first, running: null, failed: null })
  expect(isOld('slips', pictures.get().slips, job())).toBe(false)
  // Where the plates lie is what the picture is for.
  desk.store.set(now => decide(now, setMisfit('white', { xMm: 0.4 })))
  expect(isOld('slips', pictures.get().slips, job())).toBe(false)
  desk.store.set(now => decide(now, setLimit('register.turn', 0.1, 'plant')))
  expect(isOld('slips', pictures.get().slips, job())).toBe(true)
})

test('a picture that is given up or fails leaves the one before', async () => {
  let fails = false
  const { desk, pictures } = await opened({
    slowMs: 200,
    over: {
      accountPicture: async () => {
        if (fails) throw new Error('no room left')
        return { panels: [], wasteCm2: 1, holographyCm2: 1, seenCm2: 0 }
      },
    },
  })
  const made = await makePicture(desk, 'account')
  fails = true
  expect(await makePicture(desk, 'account')).toBeNull()
  expect(pictures.get().account).toMatchObject({ value: made, running: null, failed: 'no room left' })

  const asked = makePicture(desk, 'slips')
  stopPicture(desk, 'slips')
  expect(await asked).toBeNull()
  expect(pictures.get().slips).toMatchObject({ value: null, running: null, failed: null })
})

test('how type reads is of the lamps, of where the eye is, and of what is marked as text', async () => {
  const { desk, job, pictures } = await opened()
  await makePicture(desk, 'type')
  const made = pictures.get().type
  expect(isOld('type', made, job())).toBe(false)
  const box = { leftMm: 1, bottomMm: 1, rightMm: 9, topMm: 4 }
  const marked = putMark({ name: 'Lot', kind: 'text', shape: { kind: 'box', box } })(job())
  expect(isOld('type', made, marked)).toBe(true)
  const darker = { ...job(), light: { ...job().light, roomLevel: 0 } }
  expect(isOld('type', made, darker)).toBe(true)
  expect(isOld('account', { ...pictures.get().account, of: job() }, darker)).toBe(false)
  const eye = (view: Partial<Job['view']>) => ({ ...job(), view: { ...job().view, ...view } })
  const { eyeDistanceMm } = job().view
  expect(isOld('type', made, eye({ eyeDistanceMm: eyeDistanceMm + 50 }))).toBe(true)
  expect(isOld('type', made, eye({ eyeAt: { sideDeg: 10, riseDeg: 0 } }))).toBe(true)
  // Every view is looked at, however the panel is held now, and however bright the screen shows it.
  const pose = { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 }
  expect(isOld('type', made, eye({ pose, exposureStops: 1 }))).toBe(false)
})

test('flashes are of the lamp in the hand and of how the carton is held, not of where lamp and eye stand now', async () => {
  const { desk, job, pictures } = await opened()
  await makePicture(desk, 'flashes')
  const old = (now: Job) => isOld('flashes', pictures.get().flashes, now)
  const [hand] = job().light.lamps
  const { view } = job()
  const lamp = (change: Partial<LampPose>) => setStanding({ ...hand.pose, ...change }, view.pose)(job())
  expect(
    old(setView({ eyeAt: { sideDeg: 40, riseDeg: -20 } })(lamp({ azimuthDeg: 210, elevationDeg: 25 }))),
  ).toBe(false)
  expect(old(lamp({ diameterMm: hand.pose.diameterMm + 5 }))).toBe(true)
  expect(old(setStanding(hand.pose, { ...view.pose, tiltSideDeg: 30 })(job()))).toBe(true)
  expect(old({ ...job(), light: { ...job().light, roomLevel: 0.9 } })).toBe(true)
  expect(old({ ...job(), view: { ...view, eyeDistanceMm: view.eyeDistanceMm + 50 } })).toBe(true)
})
