import { expect, test } from 'vitest'
import type { CheckFinding } from '../../core/checks/finding.ts'
import { setLight } from '../../core/job/edit.ts'
import { wholeView } from '../../core/reference/camera.ts'
import { frameWords } from '../../renderer/panels/checks/pictures/frame-words.ts'
import {
  areFramesOf,
  drawFrames,
  type FrameFinding,
  frameKey,
  frameSide,
  framesOf,
  isFrame,
} from '../../renderer/state/frames.ts'
import type { Desk } from '../../renderer/state/open.ts'
import { decide, look } from '../../renderer/state/steps.ts'
import { checkFinding } from '../support/check-finding.ts'
import { openedDesk } from '../support/fake-desk.ts'
import type { FakePlan } from '../support/fake-host.ts'

/** Our own rules, no outside source. */

async function opened(plan: FakePlan = {}) {
  const desk = await openedDesk(plan)
  const { host } = desk
  const asked = () => host.asked.filter(name => name === 'framePicture').length
  return { desk, host, asked, job: () => desk.store.get().job!, frames: framesOf(desk.store) }
}

const frame = (key: string, tiltForwardDeg: number): FrameFinding => {
  const held = { tiltForwardDeg, tiltSideDeg: 0, turnDeg: 0 }
  const finding = checkFinding({ check: 'glare', code: key.split(' ')[0]!, key, held })
  if (!isFrame(finding)) throw new Error('no frame')
  return finding
}
const three = [frame('glare-worst carton', 20), frame('dark-worst carton', -50), frame('best-view carton', 4)]
const draw = (desk: Desk, findings = three, signal = new AbortController().signal) =>
  drawFrames(desk, findings, () => wholeView, signal)

test('each frame is drawn once, and one that is held another way is another', async () => {
  const { desk, asked, job, frames } = await opened()
  await draw(desk)
  expect([...frames.get().made.keys()]).toEqual(three.map(frameKey))
  expect(frames.get().made.get(frameKey(three[0]!))).toMatchObject({ width: frameSide, height: frameSide })
  expect(frames.get()).toMatchObject({ running: null, failed: null })
  expect(areFramesOf(frames.get(), job())).toBe(true)
  await draw(desk)
  expect(asked()).toBe(3)
  await draw(desk, [...three, frame('glare-worst carton', 21)])
  expect(asked()).toBe(4)
})

test('frames are of the job, its light and its exposure, not of how it is held now', async () => {
  const { desk, asked, job, frames } = await opened()
  await draw(desk)
  const are = () => areFramesOf(frames.get(), job())
  desk.store.set(now => look(now, { pose: { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 } }))
  expect(are()).toBe(true)
  desk.store.set(now => look(now, { exposureStops: 1 }))
  expect(are()).toBe(false)
  await draw(desk)
  expect([asked(), are()]).toEqual([6, true])
  desk.store.set(now => decide(now, setLight({ roomLevel: 0.77 })))
  expect(are()).toBe(false)
  await draw(desk, three.slice(0, 1))
  // Those of the state before are gone.
  expect(frames.get().made.size).toBe(1)
})

test('drawing that is given up ends at once and keeps what was drawn; the next goes on from there', async () => {
  const { desk, host, asked, frames } = await opened({ slowMs: 120 })
  const given = new AbortController()
  const drawing = draw(desk, three, given.signal)
  for (let i = 0; i < 500 && frames.get().made.size === 0; i++) await new Promise(next => setTimeout(next, 5))
  expect(frames.get().running).not.toBeNull()
  given.abort()
  expect(frames.get().running).toBeNull()
  await drawing
  expect(host.asked).toContain('cancel')
  expect(frames.get()).toMatchObject({ running: null, failed: null })
  expect([...frames.get().made.keys()]).toEqual([frameKey(three[0]!)])
  const before = asked()
  await draw(desk)
  expect(frames.get().made.size).toBe(3)
  expect(asked()).toBe(before + 2)
})

test('a picture that fails says why, and those before it stay', async () => {
  let count = 0
  const { desk, frames } = await opened({
    over: {
      framePicture: async ({ width, height }) => {
        count++
        if (count === 2) throw new Error('the art is gone')
        return { width, height, rgba: new Uint8Array(4 * width * height) }
      },
    },
  })
  await draw(desk)
  expect(frames.get()).toMatchObject({ running: null, failed: 'the art is gone' })
  expect(frames.get().made.size).toBe(1)
})

test('a frame says its number, and a limit only where it passes it', () => {
  const words = (code: string, value: number, limit: number | null) => {
    const own: CheckFinding['limit'] =
      limit === null ? null : { key: code, value: limit, unit: '', status: 'proposed', source: '' }
    const { number, limit: said } = frameWords(
      checkFinding({ check: 'glare', code, measured: { value, unit: '' }, limit: own }),
    )
    return [number.replaceAll('\u00a0', ' '), said?.replaceAll('\u00a0', ' ') ?? null]
  }
  expect(words('glare-worst', 36.2, 10)).toEqual(['36 times paper white', 'limit passed: 10'])
  expect(words('glare-worst', 2.24, 10)).toEqual(['2.2 times paper white', null])
  expect(words('dark-worst', 0.0071, 0.03)).toEqual(['0.7 % of paper white', 'limit passed: 3 %'])
  expect(words('dark-worst', 2e-6, 0.03)).toEqual(['under 0.1 % of paper white', 'limit passed: 3 %'])
  expect(words('dark-worst', 0, 0.03)[0]).toBe('0 % of paper white')
  expect(words('dark-worst', 0.124, 0.03)).toEqual(['12 % of paper white', null])
  expect(words('best-view', 15.9, null)).toEqual(['mean chroma 16', null])
})
