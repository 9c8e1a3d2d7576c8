import { describe, expect, test } from 'vitest'
import type { ArtFile } from '../../core/art/layer.ts'
import { BadInput } from '../../core/base/finding.ts'
import type { CheckFinding } from '../../core/checks/finding.ts'
import { preflightCheck } from '../../core/checks/preflight/check.ts'
import { whiteCheck } from '../../core/checks/white/check.ts'
import type { EffectSpec } from '../../core/effects/effect.ts'
import { setEffect, setRole, setWhite } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { applyRemedy } from '../../core/job/remedies.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { type PaintedLayer, paintedFile } from '../core/painted.ts'

/** Art of 15.24 mm; round shapes lie in its middle. */
const size = 180
const disc = (r: number) => (x: number, y: number) =>
  Math.hypot(x - size / 2 + 0.5, y - size / 2 + 0.5) < r ? 1 : 0
const star: PaintedLayer = { name: 'Star', paint: (x, y) => [1, 0.4, 0, 0, disc(40)(x, y)] }
const white = { name: 'White', paint: disc(40) }
const whiteAs = (value: number, hits = 1) =>
  setWhite({
    target: { kind: 'channel', id: 'White' },
    opacity: { from: 'contrast', value },
    hits,
    mottle: 0,
    screen: 'dots',
    toneGain: 0,
  })

interface Plant {
  readonly file: ArtFile
  readonly edits?: readonly ((job: Job) => Job)[]
}

const checks = new CheckWork(async () => [whiteCheck(), preflightCheck()])
async function check(file: ArtFile, job: Job): Promise<readonly CheckFinding[]> {
  const { list } = await checks.check(file, { job, assets: [], profile: null })
  return list.findings
}

/** The finding of a code before its remedy, and after it; the edited job can be saved. */
async function mended({ file, edits = [] }: Plant, code: string) {
  const job = edits.reduce(
    (now: Job, edit) => edit(now),
    newJob(file.art, 'ab'.repeat(32), 'painted.psd', []),
  )
  const [before, ...more] = (await check(file, job)).filter(one => one.code === code)
  expect(more).toEqual([])
  expect(before, `${code} is found`).toBeDefined()
  expect(before!.remedy, `${code} has a remedy`).not.toBeNull()
  const after = applyRemedy(job, before!.remedy!)
  expect(parseJob(jobText(after), 'after')).toEqual(after)
  expect(applyRemedy(after, before!.remedy!)).toEqual(after)
  return {
    job,
    after,
    before: before!,
    left: (await check(file, after)).find(one => one.key === before!.key),
  }
}

describe('a remedy takes its finding away', () => {
  test('a white that is read as its negative', async () => {
    const drawn: PaintedLayer = {
      name: 'White plate',
      paint: (x, y) => [0, 0, 0, 1 - disc(40)(x, y), 1],
    }
    const file = paintedFile({ width: size, height: size, layers: [star, drawn] })
    const read = setRole({ kind: 'layer', id: 'White plate' }, 'white', { from: 'darkness' })
    const { left, before } = await mended({ file, edits: [read] }, 'white-inverted')
    expect(before.remedy).toMatchObject({ name: 'read-amount', values: { from: 'lightness' } })
    expect(left).toBeUndefined()
  })

  test('print on foil without a white, by one that is made under it', async () => {
    const sky: PaintedLayer = { name: 'Sky', paint: (x, y) => [0, 0.8, 0, 0, disc(70)(x, y)] }
    const file = paintedFile({ width: size, height: size, layers: [sky, star] })
    const { job, left, before, after } = await mended({ file }, 'white-missing')
    expect(before.remedy).toMatchObject({ name: 'make-white' })
    expect(left).toBeUndefined()
    expect(after.madeWhite).toMatchObject({ under: ['Sky', 'Star'], design: { chokeMm: 0.15 } })
    // One that somebody made stays.
    const own = { ...job, madeWhite: { ...after.madeWhite!, under: ['Star'] } }
    expect(applyRemedy(own, before.remedy!)).toBe(own)
  })

  test('a white plate that is empty as it is read', async () => {
    const drawn: PaintedLayer = { name: 'White plate', paint: (x, y) => [0, 0, 0, 0, disc(40)(x, y)] }
    const file = paintedFile({ width: size, height: size, layers: [drawn, star] })
    const read = setRole({ kind: 'layer', id: 'White plate' }, 'white', { from: 'darkness' })
    expect((await mended({ file, edits: [read] }, 'white-empty')).left).toBeUndefined()
  })

  test('a white that is too thin under a brand colour, by the hits that are enough and no more', async () => {
    const file = paintedFile({
      width: size,
      height: size,
      channels: [
        white,
        { name: 'Halden blue', ink: { space: 'Lab', values: [40, 0, -40] }, paint: disc(30) },
      ],
    })
    const { before, after, left } = await mended({ file, edits: [whiteAs(0.5)] }, 'white-thin')
    expect(left).toBeUndefined()
    expect(before.remedy!.values.hits).toBe(3)
    const [entry] = after.whites
    const less = { ...after, whites: [{ ...entry!, hits: 2 }] }
    expect((await check(file, less)).map(one => one.code)).toContain('white-thin')
  })

  test('metal that comes through white: each hit brings the number down', async () => {
    const file = paintedFile({ width: size, height: size, layers: [star], channels: [white] })
    const { before, left } = await mended({ file, edits: [whiteAs(0.5)] }, 'metal-bleed')
    expect(before.remedy).toMatchObject({ name: 'print-hits', values: { hits: 2 } })
    expect(left?.measured?.value ?? 0).toBeLessThan(before.measured!.value)
  })

  test('an ink that is named like a processing step', async () => {
    const cut = { name: 'Cutting', paint: disc(60) }
    const file = paintedFile({ width: size, height: size, layers: [star], channels: [cut] })
    const read = setRole({ kind: 'channel', id: 'Cutting' }, 'spotInk', null)
    const { left, after } = await mended({ file, edits: [read] }, 'separation-named-step')
    expect(left).toBeUndefined()
    expect(after.roles).toMatchObject([{ role: 'dieline' }])
  })

  test('holography that is too fine for its kind keeps its pitch as a plain grating', async () => {
    const rays: PaintedLayer = { name: 'Holo rays', paint: (x, y) => [0, 0, 0, 0, disc(10)(x, y)] }
    const file = paintedFile({ width: size, height: size, layers: [rays, star], channels: [white] })
    const { left, after } = await mended(
      { file, edits: [holography('Holo rays', { kind: 'radial', parameters: { pitchNm: 900 } })] },
      'effect-too-small',
    )
    expect(left).toBeUndefined()
    expect(after.effects[0]!.effect).toEqual({ kind: 'plain', parameters: { pitchNm: 900 } })
  })

  test('a pitch below what the model was checked for', async () => {
    const rays: PaintedLayer = { name: 'Holo rays', paint: (x, y) => [0, 0, 0, 0, disc(60)(x, y)] }
    const file = paintedFile({ width: size, height: size, layers: [rays, star], channels: [white] })
    const fine: EffectSpec = { kind: 'plain', parameters: { pitchNm: 500, azimuthDeg: 30 } }
    const { left, after } = await mended(
      { file, edits: [holography('Holo rays', fine)] },
      'pitch-not-validated',
    )
    expect(left).toBeUndefined()
    expect(after.effects[0]!.effect.parameters).toEqual({ pitchNm: 670, azimuthDeg: 30 })
  })

  test('art that is stretched over a panel of other proportions', async () => {
    const file = paintedFile({ width: size, height: size, layers: [star], channels: [white] })
    const high = (job: Job): Job => ({ ...job, panel: { ...job.panel, heightMm: 20 } })
    const { left, after } = await mended({ file, edits: [high] }, 'aspect-differs')
    expect(left).toBeUndefined()
    expect(after.panel).toMatchObject({ widthMm: 15.24, heightMm: 15.24 })
  })

  test('a layer that a newer rule reads otherwise keeps its part', async () => {
    const file = paintedFile({ width: size, height: size, layers: [star], channels: [white] })
    const target = { kind: 'layer', id: 'Star' } as const
    const found = (job: Job): Job => ({ ...job, found: [{ target, name: 'Star', role: 'varnish' }] })
    const { left, after } = await mended({ file, edits: [found] }, 'role-changed')
    expect(left).toBeUndefined()
    expect(after.roles).toMatchObject([{ target, role: 'varnish' }])
  })
})

const holography =
  (id: string, effect: EffectSpec) =>
  (job: Job): Job => {
    const target = { kind: 'layer', id } as const
    return setEffect(target, effect)(setRole(target, 'holography', { from: 'alpha' })(job))
  }

test('a remedy is refused where it is not known, and does nothing where its white is gone', () => {
  const file = paintedFile({ width: size, height: size, layers: [star] })
  const job = newJob(file.art, 'ab'.repeat(32), 'painted.psd', [])
  const remedy = { name: 'print-hits', says: '', values: { kind: 'channel', id: 'White', hits: 2 } }
  expect(applyRemedy(job, remedy)).toBe(job)
  expect(() => applyRemedy(job, { ...remedy, name: 'paint-it' })).toThrow(BadInput)
  expect(() => applyRemedy(job, { ...remedy, values: { ...remedy.values, hits: 99 } })).toThrow(/1 to 9/)
})
