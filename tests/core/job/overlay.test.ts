import { expect, test } from 'vitest'
import { assumedNumbers, setAssumed } from '../../../core/job/assumed.ts'
import { cartonFor } from '../../../core/job/carton.ts'
import { cartonFindings } from '../../../core/job/carton-findings.ts'
import { setOverlay } from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { sceneWith } from '../../../core/job/scene.ts'
import { asPrinted, filmLimits } from '../../../core/reference/overlay.ts'
import { layOf } from '../../../core/reference/overlay-lay.ts'
import { plainJob } from '../../support/job.ts'

const lifted = setOverlay({ lift: 0.3, laid: 'film' }, { registerMm: [0.4, -0.2] })(plainJob)

test('how the leaves lie comes back from a job’s file and is in its scene; without it all is as printed', () => {
  expect(parseJob(jobText(lifted), 'job')).toEqual(lifted)
  const scene = sceneWith(lifted, lifted.light.lamps[0].pose, lifted.view.pose)
  expect(scene.view.overlay).toEqual({
    ...asPrinted,
    lift: 0.3,
    laid: 'film',
    film: { ...asPrinted.film, registerMm: [0.4, -0.2] },
  })
  expect(parseJob(jobText(plainJob), 'job').view.overlay).toBeUndefined()
  const plain = sceneWith(plainJob, plainJob.light.lamps[0].pose, plainJob.view.pose)
  expect(layOf(plain, plainJob.panel)).toBeNull()
})

test('a carton lies open while its leaves are not one print, says so, and folds again when they are', () => {
  const folded = { ...plainJob, carton: cartonFor(plainJob.panel) }
  const at = (job: Job) => sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  expect(at(folded).solid).toBeDefined()
  expect(cartonFindings(folded)).toEqual([])
  const { shown } = asPrinted
  for (const change of [{ lift: 0.1 }, { laid: 'film' }, { shown: { ...shown, white: false } }] as const) {
    const apart = setOverlay(change)(folded)
    expect(at(apart).solid).toBeUndefined()
    expect(layOf(at(apart), apart.panel)).not.toBeNull()
    expect(cartonFindings(apart)).toMatchObject([{ severity: 'note', code: 'carton-open-for-leaves' }])
    const again = setOverlay({ lift: 0, laid: 'print', shown })(apart)
    expect(at(again).solid).toBe(at(folded).solid)
    expect(layOf(at(again), again.panel)).toBeNull()
  }
})

test('a film that cannot be is refused by its field', () => {
  for (const [key, value] of [
    ['gapMm', 0.6],
    ['index', 1],
    ['thicknessMm', 0],
    ['registerMm', [6, 0]],
  ] as const)
    expect(() => checkJob(setOverlay({}, { [key]: value })(plainJob), 'job'), key).toThrow(key)
  expect(() => checkJob(setOverlay({ lift: 1.1 })(plainJob), 'job')).toThrow('lift')
})

test('what is assumed of the film stands on the page, and takes a measurement', () => {
  const numbers = assumedNumbers(plainJob).filter(one => one.key.startsWith('view.overlay.film.'))
  expect(numbers.map(one => one.key.split('.').at(-1)).sort()).toEqual([
    'gapMm',
    'index',
    'roughness',
    'thicknessMm',
  ])
  const gap = numbers.find(one => one.key.endsWith('gapMm'))!
  expect(setAssumed(gap, 0.2)(plainJob).view.overlay).toEqual({
    ...asPrinted,
    film: { ...asPrinted.film, gapMm: 0.2 },
  })
  expect(() => setAssumed(gap, filmLimits.gapMm[1] + 0.1)(plainJob)).toThrow(RangeError)
})
