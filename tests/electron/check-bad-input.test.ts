import { describe, expect, test } from 'vitest'
import type { ArtFile } from '../../core/art/layer.ts'
import { checkParts } from '../../core/checks/parts.ts'
import type { ListedFinding } from '../../core/checks/run.ts'
import { putMark, setLimit } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob, newJob } from '../../core/job/new.ts'
import { blankFor } from '../../electron/art-work.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { codeReader } from '../../electron/code-reader.ts'
import { type PaintedChannel, type PaintedLayer, paintedFile } from '../core/painted.ts'

/** Art of 15.24 mm with a round star in its middle, and white under it. */
const size = 180
const disc = (r: number) => (x: number, y: number) =>
  Math.hypot(x - size / 2 + 0.5, y - size / 2 + 0.5) < r ? 1 : 0
const star: PaintedLayer = { name: 'Star', paint: (x, y) => [1, 0.4, 0, 0, disc(40)(x, y)] }
const ring: PaintedLayer = {
  name: 'Holo ring',
  paint: (x, y) => [0, 0, 0, 0, disc(60)(x, y) - disc(40)(x, y)],
}
const white: PaintedChannel = { name: 'White', paint: disc(40) }

const checks = new CheckWork(async () => checkParts(await codeReader()))

interface Bad {
  readonly layers?: readonly PaintedLayer[]
  readonly channels?: readonly PaintedChannel[]
  readonly edits?: readonly ((job: Job) => Job)[]
}

async function found({ layers = [ring, star], channels = [white], edits = [] }: Bad) {
  const file = paintedFile({ width: size, height: size, layers, channels })
  const job = edits.reduce(
    (now: Job, edit) => edit(now),
    newJob(file.art, 'ab'.repeat(32), 'painted.psd', []),
  )
  return findingsOf(file, job)
}

async function findingsOf(file: ArtFile, job: Job): Promise<readonly ListedFinding[]> {
  const { list } = await checks.check(file, { job, assets: [], profile: null })
  // Whatever is found says what, where and what to do.
  for (const { message, where, fix, key } of list.findings)
    expect([message, where, fix, key].every(words => words.length > 0)).toBe(true)
  expect(new Set(list.findings.map(one => one.key)).size).toBe(list.findings.length)
  return list.findings
}

const ofCode = (all: readonly ListedFinding[], code: string) => all.filter(one => one.code === code)
const mark = (name: string, kind: string, leftMm: number, bottomMm: number, rightMm: number, topMm: number) =>
  putMark({ name, kind, shape: { kind: 'box', box: { leftMm, bottomMm, rightMm, topMm } } })
const tolerances = (mm: number) =>
  ['holography-white', 'holography-colour', 'colour-white', 'die-colour', 'die-white', 'die-holography'].map(
    pair => setLimit(`register.${pair}`, mm, 'a try'),
  )

describe('what cannot be right has a word, and the rest is checked all the same', () => {
  test('a job without dieline, and one without art', async () => {
    expect(ofCode(await found({}), 'dieline-missing')).toMatchObject([{ severity: 'note' }])
    const job = blankJob(15, 10)
    expect(ofCode(await findingsOf(blankFor(job), job), 'dieline-missing')).toHaveLength(1)
  })

  test('a white that is its own negative', async () => {
    const negative = { name: 'White', paint: (x: number, y: number) => 1 - disc(40)(x, y) }
    expect(ofCode(await found({ channels: [negative] }), 'white-inverted')).toMatchObject([
      { severity: 'error', where: 'white "White"' },
    ])
  })

  test('tolerances of 0 leave nothing that can show, those of 10 mm fail', async () => {
    const still = [setLimit('register.turn', 0, 'a try'), setLimit('register.stretch', 0, 'a try')]
    const tight = await found({ edits: [...tolerances(0), ...still] })
    expect(tight.filter(one => one.check === 'register')).toEqual([])
    const loose = await found({ edits: tolerances(10) })
    expect(
      loose.filter(one => one.check === 'register' && one.severity === 'error').length,
    ).toBeGreaterThanOrEqual(1)
  })

  test('an object beside the panel, by layer and by mark', async () => {
    const beside: PaintedLayer = {
      name: 'Moon',
      paint: () => [0, 0, 0, 1, 1],
      box: { left: 400, top: 20, right: 420, bottom: 40 },
    }
    const all = await found({
      layers: [ring, star, beside],
      edits: [mark('Motto', 'text', 30, 2, 40, 5), mark('Colour', 'brand-colour', -9, -9, -5, -5)],
    })
    expect(ofCode(all, 'object-prints-nothing')).toMatchObject([{ where: 'layer "Moon"' }])
    expect(ofCode(all, 'type-outside-art')).toMatchObject([{ where: 'marked type "Motto"' }])
  })

  test('a code that the edge cuts', async () => {
    const all = await found({ edits: [mark('Parcel', 'code', 10, -4, 20, 6)] })
    expect(ofCode(all, 'code-cut')).toMatchObject([{ severity: 'error', where: 'marked code "Parcel"' }])
  })

  test('text with no ink, as a layer and as a mark', async () => {
    const unset: PaintedLayer = { name: 'Motto', kind: 'text', text: { value: 'Per aspera', boxMm: null } }
    const all = await found({
      layers: [ring, star, unset],
      edits: [mark('Blank', 'text', 0.5, 0.5, 3, 2), mark('Nothing', 'text', 5, 5, 5, 5)],
    })
    const silent = ofCode(all, 'type-without-ink').map(one => one.where)
    expect(silent).toEqual(expect.arrayContaining(['marked type "Blank"', 'marked type "Nothing"']))
    expect([...silent, ...ofCode(all, 'text-without-ink').map(one => one.where)]).toContain('text "Motto"')
  })

  test('ten thousand pieces of type: so many are judged, and how many are not is said', async () => {
    const many = Array.from({ length: 10_000 }, (_, i): PaintedLayer => {
      const [left, top] = [(i % 100) + 40, Math.floor(i / 100) + 40]
      return {
        name: `Star ${i}`,
        kind: 'text',
        text: { value: 'o', boxMm: null },
        paint: () => [0, 0, 0, 1, 1],
        box: { left, top, right: left + 1, bottom: top + 1 },
      }
    })
    const all = await found({
      layers: [ring, star, ...many],
      edits: [setLimit('legibility.objects', 20, 'a try')],
    })
    expect(ofCode(all, 'too-much-type')).toMatchObject([
      { measured: { value: 10_000 }, limit: { value: 20, status: 'own' } },
    ])
  }, 600_000)
})
