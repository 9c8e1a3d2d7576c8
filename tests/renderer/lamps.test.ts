import { describe, expect, it } from 'vitest'
import { addLamp, removeLamp } from '../../core/job/lamps.ts'
import { setOther } from '../../core/job/track.ts'
import { tableAction } from '../../renderer/keys.ts'
import { straightOn } from '../../renderer/stage/angles.ts'
import { chosenLamp, holdPanel, moveLamp, pressed, soundLight } from '../../renderer/state/actions.ts'
import { firstState, inView, type State } from '../../renderer/state/state.ts'
import { begin, decide, undo } from '../../renderer/state/steps.ts'
import { plainJob } from '../support/job.ts'

const opened: State = begin(firstState, plainJob, plainJob)
const two = inView(decide(opened, addLamp(plainJob.light.lamps[0])), { lamp: 1 })
const key = (name: string, shiftKey = false) =>
  tableAction({ key: name, shiftKey, ctrlKey: false, metaKey: false, altKey: false })

describe('the chosen lamp', () => {
  it('is the first where the chosen one has gone', () => {
    expect(chosenLamp(two)).toBe(1)
    expect(chosenLamp(undo(two))).toBe(0)
    expect(chosenLamp(decide(two, removeLamp(1)))).toBe(0)
  })

  it('is the one that the keys move, the other stays', () => {
    const moved = pressed(two, key('ArrowRight', true)!)
    expect(moved.job?.light.lamps[0]).toBe(two.job?.light.lamps[0])
    expect(moved.job?.light.lamps[1]?.pose.azimuthDeg).not.toBe(two.job?.light.lamps[1]?.pose.azimuthDeg)
  })

  it('only the first takes a light run over', () => {
    const running = inView(two, { run: { ...two.view.run, timeS: 1 } })
    const pose = { ...plainJob.light.lamps[0].pose, azimuthDeg: 10 }
    expect(moveLamp(running, 1, pose).view.run.timeS).toBe(1)
    expect(moveLamp(running, 0, pose).view.run.timeS).toBeNull()
  })

  it('taken while a light run moves it, the run ends where all then stands', () => {
    const [path] = plainJob.paths
    const there = { ...plainJob.light.lamps[0].pose, azimuthDeg: -40 }
    const eye = { distanceMm: 700, sideDeg: 20, riseDeg: 0 }
    const moving = { ...path!, keys: path!.keys.map(one => ({ ...one, others: [there], eye })) }
    const running = inView(
      decide(two, job => ({ ...job, paths: [moving] })),
      {
        run: { ...two.view.run, path: 0, timeS: 4 },
      },
    )
    const taken = moveLamp(running, 1, { ...there, elevationDeg: 33 })
    expect(taken.view.run.timeS).toBeNull()
    expect(taken.job?.light.lamps[1]?.pose).toEqual({ ...there, elevationDeg: 33 })
    // The hand tilt has its second key at 4 s.
    expect(taken.job?.view.pose).toEqual(path!.keys[1]!.pose)
    expect(taken.job?.view.eyeDistanceMm).toBe(700)
    expect(holdPanel(running, straightOn).job?.light.lamps[1]?.pose).toEqual(there)
  })

  it('a key that would put a lamp into the panel is not made', () => {
    const [path] = plainJob.paths
    const inside = { ...plainJob.light.lamps[0].pose, distanceMm: 2, elevationDeg: 1 }
    const made = decide(two, job => ({ ...job, paths: [setOther(path!, 1, 0, inside)] }))
    const kept = soundLight(two, made)
    expect(kept.job).toBe(two.job)
    expect(kept.session.message?.text).toContain('key 2, lamp 2')
  })

  it('never reaches into the panel: the change is not made, and a line says why', () => {
    const { pose } = plainJob.light.lamps[0]
    const wide = (diameterMm: number) => moveLamp(opened, 0, { ...pose, diameterMm })
    const kept = soundLight(opened, wide(2.5 * pose.distanceMm))
    expect(kept.job).toBe(opened.job)
    expect(kept.session.message?.text).toContain('reaches into the panel')
    const small = wide(20)
    expect(soundLight(opened, small)).toBe(small)
  })
})

it('the key O marks what the screen cannot show, and takes the marks away', () => {
  const marked = pressed(opened, key('o')!)
  expect(marked.view.marks).toBe(true)
  expect(pressed(marked, key('O')!).view.marks).toBe(false)
})
