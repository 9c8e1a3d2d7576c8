import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { setEffect, setRole, setSpot, setWhite, teachWord } from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { jobVersion } from '../../../core/job/job.ts'
import { migrate } from '../../../core/job/migrate.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { withHandLamp } from '../../../core/reference/scene.ts'
import { plainJob } from '../../support/job.ts'

const target = { kind: 'layer', id: '7' } as const
/** A job with something in every list. */
const fullJob: Job = [
  setRole(target, 'white', { from: 'ink', ink: 'K' }),
  setRole({ kind: 'channel', id: 'c1' }, 'varnish', null),
  teachWord('Glanz', 'varnish'),
  setEffect(target, { kind: 'radial', parameters: { pitchNm: 1000 } }),
  setWhite({
    target,
    opacity: { from: 'contrast', value: 0.62 },
    hits: 2,
    mottle: 0,
    screen: 'dots',
    toneGain: 0,
  }),
  setSpot({
    target,
    lab: [60, 50, 40],
    spectrum: { startNm: 400, stepNm: 10, values: Array.from({ length: 31 }, (_, i) => i / 30) },
  }),
].reduce<Job>((job, edit) => edit(job), {
  ...plainJob,
  found: [{ target, name: 'Comet', role: 'overprint' }],
  limits: { 'text-contrast': { value: 3, note: 'house rule 4' } },
  waivers: [{ key: 'text-lost:Comet', reason: 'a caption', by: 'I. Halden', on: '2026-03-31' }],
  marked: [
    {
      name: 'Title',
      kind: 'text',
      shape: { kind: 'box', box: { leftMm: 1, bottomMm: 2, rightMm: 3, topMm: 4 } },
    },
  ],
  register: { white: { xMm: 0.1, yMm: 0, turnDeg: 0, stretchXPercent: 0, stretchYPercent: 0 } },
})

const refusal = (work: () => unknown): BadInput => {
  try {
    work()
  } catch (error) {
    if (error instanceof BadInput) return error
    throw error
  }
  throw new Error('expected a refusal')
}

type Path = readonly (string | number)[]

/** Every place inside a value that holds a value. */
function places(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path]
  return [path, ...Object.entries(value).flatMap(([key, inner]) => places(inner, [...path, key]))]
}

/** A copy with one place changed. */
function changed(value: unknown, [key, ...rest]: Path, to: unknown): unknown {
  if (key === undefined) return to
  const copy: Record<string, unknown> | unknown[] = Array.isArray(value)
    ? [...value]
    : { ...(value as Record<string, unknown>) }
  const inner = (copy as Record<string, unknown>)[key]
  ;(copy as Record<string, unknown>)[key] = changed(inner, rest, to)
  return copy
}

/** Where an effect keeps its own parameters, which the effect checks. */
const isParameter = (path: Path) => path[0] === 'effects' && path[3] === 'parameters'

describe('parseJob', () => {
  test.each([
    ['fresh', plainJob],
    ['full', fullJob],
  ])('a %s job comes back as it was written', (_, job) => {
    expect(parseJob(jobText(job), 'front.job.json')).toEqual(job)
  })

  test.each(
    places(fullJob)
      .filter(path => path.length > 0 && !isParameter(path))
      .map(path => [path.join('.'), path] as const),
  )('a wrong %s is refused with its name', (name, path) => {
    const error = refusal(() => checkJob(changed(fullJob, path, { nonsense: true }), 'front.job.json'))
    expect(error.message).toContain('front.job.json')
    expect(error.where).toContain(name.split('.')[0])
    // The exact field is named wherever a field is replaced as a whole.
    if (path.length > 1) expect(error.where).toContain(String(path[1]))
  })

  test.each([
    [['panel', 'widthMm'], 0, 'from 0.01 to'],
    [['panel', 'resolutionPpi'], Number.NaN, 'a number'],
    [['light', 'lamps', 0, 'pose', 'elevationDeg'], -5, 'above the table'],
    [['light', 'lamps', 0, 'pose', 'distanceMm'], 0, 'from 1 to'],
    [['light', 'lamps', 0, 'illuminant'], 'F2', 'LED-V1, FL11, got "F2"'],
    [['light', 'lamps', 0, 'lux'], Number.NaN, 'a number from 0 to'],
    [['light', 'lamps', 0, 'lux'], 0, 'at least one lamp above 0 lx'],
    [['light', 'lamps'], [], 'light.lamps.0'],
    [['light', 'lamps'], Array.from({ length: 7 }, () => plainJob.light.lamps[0]), 'at most 6 lamps'],
    [['whites', 0, 'opacity', 'value'], 1.01, 'got 1.01'],
    [['whites', 0, 'opacity', 'value'], Number.NaN, 'from 0 to 1'],
    [['whites', 0, 'opacity'], { from: 'wedge', patches: [] }, 'at least one patch'],
    [['whites', 0, 'opacity'], 50, 'contrast, overBlack or wedge'],
    [['whites', 0, 'hits'], 1.5, 'a whole number'],
    [['print', 'intent'], 'vivid', 'perceptual, relative, saturation, absolute'],
    [['print', 'toneGain', 2], 0.36, 'from 0 to 0.35'],
    [['print', 'profile'], { path: '', sha256: 'a'.repeat(64) }, 'the path of a profile'],
    [['spots', 0, 'lab', 0], Number.NaN, 'a number from 0 to 100'],
    [['spots', 0, 'spectrum', 'values', 3], null, 'a number from 0 to 2, got null'],
    [['spots', 0, 'spectrum', 'values'], [0.5], '31 values or more'],
    [['spots', 0, 'spectrum', 'stepNm'], 5, 'reaches 700 nm'],
    [['art', 'sha256'], 'abc', '64 hexadecimal digits'],
    [['roles', 0, 'role'], 'gloss', 'one of substrate'],
    [['roles', 0, 'amount'], { from: 'smell' }, 'alpha, darkness'],
    [['paths', 0, 'keys'], [], 'at least one key'],
    [['paths', 0, 'keys', 1, 'timeS'], 0, 'rise from key to key'],
    [['paths', 1, 'name'], 'Hand tilt', 'same name'],
    [['view', 'speed'], 3, 'does not know'],
  ] as const)('%j = %j', (path, value, says) => {
    const error = refusal(() => checkJob(changed(fullJob, path, value), 'x.json'))
    expect(error.code).toBe('job-malformed')
    expect(error.message).toContain(says)
  })

  test('a job of a newer version says what to do', () => {
    const error = refusal(() => checkJob({ ...plainJob, version: 9, somethingNew: [] }, 'late.job.json'))
    expect(error.code).toBe('job-newer')
    expect(error.message).toMatch(/late\.job\.json.*version 9.*up to 3.*Update rakelight/)
  })

  test.each(['', '{', '[1,2', 'PNG'])('text %j is no JSON', text => {
    expect(refusal(() => parseJob(text, 'x.json')).code).toBe('job-malformed')
  })

  test.each(['null', '[]', '3', '"job"', '{}', '{"format":"other","version":1}'])('%s is no job', text => {
    expect(refusal(() => parseJob(text, 'x.json')).code).toBe('not-a-job')
  })

  test.each([0, -1, 1.5, '1', null])('version %j is refused', version => {
    expect(refusal(() => checkJob({ ...plainJob, version }, 'x.json')).where).toContain('version')
  })

  test('whatever the text, the answer is a job or one clear refusal', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), text => {
        expect(refusal(() => parseJob(text, 'x.json')).message).toMatch(/^x\.json: /)
      }),
    )
  })
})

describe('a lamp inside the panel', () => {
  test.each([
    [
      'at grazing elevation over the panel',
      { azimuthDeg: 0, elevationDeg: 0.1, distanceMm: 30, diameterMm: 2 },
    ],
    ['wider than it is far', { azimuthDeg: 90, elevationDeg: 90, distanceMm: 40, diameterMm: 90 }],
  ])('%s is refused', (_, lamp) => {
    const error = refusal(() =>
      checkJob({ ...plainJob, light: withHandLamp(plainJob.light, lamp) }, 'x.json'),
    )
    expect(error.code).toBe('lamp-inside-panel')
    expect(error.where).toBe('light.lamps.0')
  })

  test('a tilted panel that reaches the lamp is refused, in a path too', () => {
    const lamp = { azimuthDeg: 180, elevationDeg: 45, distanceMm: 40, diameterMm: 6 }
    const pose = { tiltForwardDeg: 0, tiltSideDeg: 45, turnDeg: 0 }
    const path = { name: 'Into the lamp', loop: false, keys: [{ timeS: 0, lamp, pose }] }
    const error = refusal(() => checkJob({ ...plainJob, paths: [path] }, 'x.json'))
    expect(error.where).toBe('path "Into the lamp", key 1')
  })

  test('a low lamp beside the panel is fine', () => {
    const lamp = { azimuthDeg: 0, elevationDeg: 1, distanceMm: 300, diameterMm: 4 }
    expect(
      checkJob({ ...plainJob, light: withHandLamp(plainJob.light, lamp) }, 'x.json').light.lamps[0].pose,
    ).toEqual(lamp)
  })
})

describe('migrate', () => {
  const steps = {
    1: (job: object) => ({ ...job, version: 2, lamp: 'added' }),
    2: (job: object) => ({ ...job, version: 3 }),
  }
  test('takes every step in turn', () => {
    expect(migrate({ version: 1, kept: true }, 1, 3, steps)).toEqual({
      version: 3,
      lamp: 'added',
      kept: true,
    })
    expect(migrate({ version: 2 }, 2, 3, steps)).toEqual({ version: 3 })
    expect(migrate({ version: 3 }, 3, 3, steps)).toEqual({ version: 3 })
  })
  test('refuses a gap and a step that forgets its version', () => {
    expect(() => migrate({ version: 1 }, 1, 2, {})).toThrow('no step from version 1')
    expect(() => migrate({ version: 1 }, 1, 2, { 1: job => job })).toThrow('left version 1')
  })
})

test('a job of version 1 opens with every number it had, and the rest at its default', () => {
  const url = new URL('../../fixtures/job-v1.json', import.meta.url)
  const old = JSON.parse(readFileSync(url, 'utf8'))
  const job = parseJob(readFileSync(url, 'utf8'), 'demo.job.json')
  expect(job.version).toBe(jobVersion)
  expect(job.light).toEqual({
    lamps: [
      {
        name: 'Lamp',
        pose: old.light.lamp,
        form: { kind: 'disc' },
        illuminant: old.light.illuminant,
        spectrum: null,
        lux: 500,
      },
    ],
    roomLevel: old.light.roomLevel,
  })
  expect(job.board).toMatchObject(old.board)
  expect(job.whites).toEqual([
    {
      ...old.whites[0],
      opacity: { from: 'contrast', value: old.whites[0].opacity },
      mottle: 0,
      screen: 'dots',
      toneGain: 0,
    },
  ])
  expect(job.view).toMatchObject(old.view)
  expect(job.paths).toMatchObject(old.paths)
  expect([job.effects, job.roles, job.found]).toEqual([old.effects, old.roles, old.found])
})

test('a job of version 2 opens with every field it had', () => {
  const url = new URL('../../fixtures/job-v2.json', import.meta.url)
  const old = JSON.parse(readFileSync(url, 'utf8')) as object
  expect(checkJob(old, 'job-v2.json')).toMatchObject({ ...old, version: jobVersion })
})
