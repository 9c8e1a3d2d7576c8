import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import type { Outline } from '../../../core/effects/outline.ts'
import * as edit from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { plainJob } from '../../support/job.ts'

const star: Outline = {
  id: 'star',
  name: 'Star',
  rings: [
    [
      [1, 1],
      [9, 1],
      [5, 9],
    ],
  ],
}
const target = { kind: 'outline', id: 'star' } as const
const shards: EffectSpec = {
  kind: 'facets',
  parameters: { facetMm: 3 },
  register: { mode: 'continuous', repeatMm: 120, seamMm: 0.5, directionDeg: 90, sheet: 7 },
  follow: { what: 'depth', from: { layerId: '4' }, gain: -0.5 },
}
const again = (job: Job): Job => parseJob(jobText(job), 'again.json')

describe('areas, presets and effects of a job', () => {
  it('come back from its file', () => {
    const steps = [
      edit.putOutline(star),
      edit.setEffect(target, shards),
      edit.putPreset('Shards', shards),
      edit.setNestTurn(90),
    ]
    const job = steps.reduce((now, step) => step(now), plainJob)
    expect(again(job)).toEqual(job)
  })

  it('keep an effect that this version does not know, with whatever it has', () => {
    const parameters = { strength: 3, stars: [{ x: 1 }], deep: { er: [null, 'x'] } }
    const job = edit.setEffect(target, { kind: 'aurora', parameters })(edit.putOutline(star)(plainJob))
    expect(again(job).effects).toEqual([{ target, effect: { kind: 'aurora', parameters } }])
  })

  it.each([1, 2])('are empty in a job of version %d', version => {
    const name = `job-v${version}.json`
    const job = parseJob(readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), 'utf8'), name)
    expect(job).toMatchObject({ version: 3, outlines: [], presets: [], nestTurnDeg: 0 })
  })

  it('an outline is replaced in its place, and goes with its effect', () => {
    const moved = { ...star, name: 'Moved' }
    const job = edit.setEffect(
      target,
      shards,
    )(edit.putOutline(moved)(edit.putOutline({ ...star, id: 'other' })(edit.putOutline(star)(plainJob))))
    expect(job.outlines.map(one => one.name)).toEqual(['Moved', 'Star'])
    const gone = edit.removeOutline('star')(job)
    expect(gone.outlines.map(one => one.id)).toEqual(['other'])
    expect(gone.effects).toEqual([])
  })

  it('a preset is kept, kept again, renamed to a name that is free, and forgotten', () => {
    const plain: EffectSpec = { kind: 'plain', parameters: {} }
    const two = edit.putPreset('Rings', plain)(edit.putPreset('Shards', shards)(plainJob))
    expect(
      edit
        .putPreset(
          'Shards',
          plain,
        )(two)
        .presets.map(one => one.effect),
    ).toEqual([plain, plain])
    expect(edit.renamePreset('Shards', 'Rings')(two)).toBe(two)
    expect(
      edit
        .renamePreset(
          'Shards',
          'Glass',
        )(two)
        .presets.map(one => one.name),
    ).toEqual(['Glass', 'Rings'])
    expect(edit.removePreset('Shards')(two).presets).toEqual([{ name: 'Rings', effect: plain }])
  })

  it.each<[string, unknown, RegExp]>([
    ['outlines', [{ ...star, rings: [[[0, Number.NaN]]] }], /outlines\.0\.rings\.0\.0\.1.*-100000 to 100000/],
    ['outlines', [star, star], /two outlines have the same id/],
    ['outlines', [{ ...star, name: '' }], /outlines\.0\.name.*expected a name/],
    [
      'presets',
      [
        { name: 'A', effect: shards },
        { name: 'A', effect: shards },
      ],
      /two presets have the same name/,
    ],
    ['nestTurnDeg', 45, /nestTurnDeg.*0, 90, 180 or 270/],
    [
      'effects',
      [{ target, effect: { ...shards, register: { ...shards.register, repeatMm: 0 } } }],
      /register\.repeatMm.*5 to 5000/,
    ],
    ['effects', [{ target, effect: { ...shards, follow: { ...shards.follow, gain: 2 } } }], /follow\.gain/],
    [
      'effects',
      [{ target: { kind: 'hole', id: 'x' }, effect: shards }],
      /target\.kind.*layer, channel, outline/,
    ],
  ])('a wrong field of %s is named', (field, value, words) => {
    expect(() => checkJob({ ...plainJob, [field]: value }, 'job.json')).toThrow(words)
  })
})
