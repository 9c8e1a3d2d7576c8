import { expect, test } from 'vitest'
import type { Job } from '../../../core/job/job.ts'
import { addLamp, removeLamp } from '../../../core/job/lamps.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { addPin, mostPins, pinAt, removePin, renamePin } from '../../../core/job/pins.ts'
import { setOther } from '../../../core/job/track.ts'
import { plainJob } from '../../support/job.ts'

const job: Job = plainJob

test('a pin keeps its spot under a name of its own', () => {
  const two = addPin(5, 6)(addPin(1, 2)(job))
  expect(two.pins).toEqual([
    { name: 'Spot 1', xMm: 1, yMm: 2 },
    { name: 'Spot 2', xMm: 5, yMm: 6 },
  ])
  expect(pinAt(two.pins, 5.01, 6)).toBe(1)
  expect(pinAt(two.pins, 5.2, 6)).toBeNull()
  expect(addPin(5, 6)(two)).toBe(two)
})

test('names are given, kept apart, and free again', () => {
  const two = addPin(5, 6)(addPin(1, 2)(job))
  const named = renamePin(0, '  Star chart ')(two)
  expect(named.pins[0]?.name).toBe('Star chart')
  expect(renamePin(1, 'Star chart')(named)).toBe(named)
  expect(renamePin(1, '  ')(named)).toBe(named)
  expect(addPin(8, 8)(removePin(1)(named)).pins.map(pin => pin.name)).toEqual(['Star chart', 'Spot 2'])
  expect(removePin(7)(named)).toBe(named)
})

test('pins are saved, and a job without them has none', () => {
  const kept = addPin(1, 2)(job)
  expect(parseJob(jobText(kept), 'x.job.json').pins).toEqual(kept.pins)
  const { pins: _, ...older } = job
  expect(checkJob(older, 'x.job.json').pins).toEqual([])
})

test('pins of one name and too many pins are refused by name', () => {
  const pin = { name: 'Spot', xMm: 1, yMm: 1 }
  expect(() => checkJob({ ...job, pins: [pin, pin] }, 'x.job.json')).toThrow(
    'field "pins": two pins have the same name',
  )
  const many = Array.from({ length: mostPins + 1 }, (_, i) => ({ ...pin, name: `Spot ${i}` }))
  expect(() => checkJob({ ...job, pins: many }, 'x.job.json')).toThrow(`at most ${mostPins} pins`)
})

test('20 lamps are refused with the number that may be', () => {
  const [lamp] = job.light.lamps
  const lamps = Array.from({ length: 20 }, (_, i) => ({ ...lamp, name: `Lamp ${i + 1}` }))
  expect(() => checkJob({ ...job, light: { ...job.light, lamps } }, 'lens.job.json')).toThrow(
    'lens.job.json: field "light.lamps": expected at most 6 lamps, got 20; one broad lamp can stand for several',
  )
})

test('a key that moves more lamps than a job may have is refused', () => {
  const [path] = job.paths
  const { lamp } = path!.keys[0]!
  const keys = path!.keys.map(key => ({ ...key, others: [lamp, lamp, lamp, lamp, lamp, lamp] }))
  expect(() => checkJob({ ...job, paths: [{ ...path!, keys }] }, 'x.job.json')).toThrow(
    'expected at most 5 lamps beside the first, got 6',
  )
})

test('a path of before says nothing of other lamps, the eye and how keys are passed', () => {
  const older = {
    ...job,
    paths: job.paths.map(path => ({
      ...path,
      keys: path.keys.map(({ timeS, lamp, pose }) => ({ timeS, lamp, pose })),
    })),
  }
  for (const key of checkJob(older, 'x.job.json').paths.flatMap(path => path.keys))
    expect([key.others, key.eye, key.ease]).toEqual([[], null, 'flow'])
})

test('another lamp that a key puts into the panel is named', () => {
  const two = addLamp(job.light.lamps[0])(job)
  const inside = { ...job.light.lamps[0].pose, distanceMm: 3, elevationDeg: 1, diameterMm: 10 }
  const paths = two.paths.map((path, i) => (i === 0 ? setOther(path, 1, 0, inside) : path))
  expect(() => checkJob({ ...two, paths }, 'x.job.json')).toThrow(/path "Hand tilt", key 2, lamp 2: the lamp/)
  // A lamp that the job does not have stands nowhere.
  expect(checkJob({ ...job, paths }, 'x.job.json').paths).toEqual(paths)
})

test('with a lamp go its places on the paths; the others keep theirs', () => {
  const [hand] = job.light.lamps
  const three = addLamp(hand)(addLamp(hand)(job))
  const second = { ...hand.pose, azimuthDeg: 1 }
  const third = { ...hand.pose, azimuthDeg: 2 }
  const moved: Job = {
    ...three,
    paths: three.paths.map(path => setOther(setOther(path, 0, 0, second), 0, 1, third)),
  }
  expect(removeLamp(1)(moved).paths[0]?.keys[0]?.others).toEqual([third])
  expect(removeLamp(2)(moved).paths[0]?.keys[0]?.others).toEqual([second])
  // The second takes the place of the first, and the path moves it as it moved that.
  expect(removeLamp(0)(moved).paths[0]?.keys[0]?.others).toEqual([third])
})
