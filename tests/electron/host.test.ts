import { createHash } from 'node:crypto'
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Answers, RequestName } from '../../core/host/contract.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import { blankFileId } from '../../core/host/file-ref.ts'
import type { Reply } from '../../core/host/reply.ts'
import { setRole } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { sceneWith } from '../../core/job/scene.ts'
import { mapReader } from '../../core/material/sample.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { smallPicture } from '../../core/reference/small-picture.ts'
import { createHost } from '../../electron/host.ts'
import type { Dialogs, HostSide, Shell } from '../../electron/shell.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt, lensSize } from '../support/lens-art.ts'
import { wholeMap } from '../support/whole-map.ts'

/** What the page asks and what the host answers, on real files and real worker threads. No outside source: our own contract. */

const art = lensArt()
const artHash = createHash('sha256').update(art).digest('hex')

let folder: string
let host: HostSide
let chosen: string | null
let chosenAsset: readonly string[]
let savedAt: string | null

const dialogs: Dialogs = {
  open: async () => chosen,
  openArt: async () => [],
  openAsset: async () => chosenAsset,
  saveJob: async suggested => savedAt ?? suggested,
  saveFile: async suggested => savedAt ?? suggested,
}

function start(over: Partial<Shell> = {}): HostSide {
  return createHost({
    kind: 'desktop',
    version: '1.2.3',
    dialogs,
    dataFolder: join(folder, 'data'),
    startPath: null,
    ...over,
  })
}

async function raw(name: RequestName, input: unknown): Promise<Reply<unknown>> {
  return dispatch(host.handlers, name, input)
}

async function ask<N extends RequestName>(name: N, input: unknown): Promise<Answers[N]> {
  const reply = await raw(name, input)
  if (!reply.ok) throw new Error(`${reply.code}: ${reply.message}`)
  return reply.value as Answers[N]
}

async function open(path: string) {
  chosen = path
  const file = await ask('chooseFile', { what: 'any' })
  if (file === null) throw new Error('expected a file')
  return file
}

const place = (...parts: string[]) => join(folder, ...parts)

async function importLens() {
  const file = await open(place('lens.psd'))
  return ask('importArt', { fileId: file.id, taskId: 't' })
}

/** A job file beside the art, naming it by `path`. */
async function jobNaming(path: string, name = 'lens.job.json') {
  const { job } = await importLens()
  writeFileSync(place(name), jobText({ ...job, art: { sha256: '', ...job.art, path } }))
  return open(place(name))
}

beforeAll(() => build('workers'))

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-host-'))
  writeFileSync(place('lens.psd'), art)
  chosen = null
  chosenAsset = []
  savedAt = null
  host = start()
})

afterEach(async () => {
  await host.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('about', () => {
  test('says who answers and what was named at the start', async () => {
    await host.close()
    host = start({ startPath: place('lens.psd') })
    expect(await ask('about', {})).toEqual({
      version: '1.2.3',
      shell: 'desktop',
      files: 'dialog',
      start: { id: expect.any(String), name: 'lens.psd', kind: 'art' },
    })
  })

  test('a shell without dialogs takes uploads', async () => {
    await host.close()
    host = start({ dialogs: null, kind: 'browser' })
    expect(await ask('about', {})).toMatchObject({ files: 'upload', start: null })
    expect(await raw('chooseFile', { what: 'art' })).toMatchObject({ ok: false, code: 'no-dialogs' })
  })
})

describe('importArt', () => {
  test('gives art, hash, roles and a fresh job, and no path', async () => {
    const imported = await importLens()
    expect(imported.art).toMatchObject({ width: 120, height: 80, colorMode: 'CMYK', resolutionPpi: 300 })
    expect(imported.sha256).toBe(artHash)
    expect(imported.assigned.map(one => one.role)).toEqual(['holography', 'overprint', 'white'])
    expect(imported.job.art).toEqual({ path: 'lens.psd', sha256: artHash })
    expect(imported.job.found.map(one => [one.name, one.role])).toEqual([
      ['Holo lens rings', 'holography'],
      ['Ink', 'overprint'],
      ['White', 'white'],
    ])
    expect(JSON.stringify(imported)).not.toContain(folder)
  })

  test('a file that vanished between dialog and read is said', async () => {
    const file = await open(place('lens.psd'))
    rmSync(place('lens.psd'))
    const reply = await raw('importArt', { fileId: file.id, taskId: 't' })
    expect(reply).toMatchObject({ ok: false, code: 'unreadable-file' })
    expect(reply.ok ? '' : reply.message).toMatch(/^lens\.psd: the file: is not there/)
  })

  test('a broken file is refused with its place, and the next one is read', async () => {
    writeFileSync(place('broken.psd'), art.subarray(0, 300))
    const file = await open(place('broken.psd'))
    const reply = await raw('importArt', { fileId: file.id, taskId: 't' })
    expect(reply.ok ? '' : reply.message).toMatch(/^broken\.psd: .*\d/)
    expect((await importLens()).art.width).toBe(120)
  })

  test('a file that changed on disk is read anew', async () => {
    expect((await importLens()).art.layers[1]?.name).toBe('Ink')
    writeFileSync(place('lens.psd'), lensArt('Dye'))
    expect((await importLens()).art.layers[1]?.name).toBe('Dye')
  })

  test('can be stopped, and says so', async () => {
    const file = await open(place('lens.psd'))
    const reply = raw('importArt', { fileId: file.id, taskId: 'stop-me' })
    await ask('cancel', { taskId: 'stop-me' })
    expect(await reply).toMatchObject({ ok: false, code: 'cancelled' })
    expect(await ask('progress', { taskId: 'stop-me' })).toBeNull()
  })

  test('two works of one id are refused', async () => {
    const file = await open(place('lens.psd'))
    const first = raw('importArt', { fileId: file.id, taskId: 'same' })
    expect(await raw('importArt', { fileId: file.id, taskId: 'same' })).toMatchObject({ code: 'task-in-use' })
    expect(await first).toMatchObject({ ok: true })
  })

  test.each(['made-up', '..'])('an id that was not given out (%s) opens nothing', async fileId => {
    const reply = await raw('importArt', { fileId, taskId: 't' })
    expect(reply).toMatchObject({ ok: false, code: fileId === '..' ? 'malformed' : 'unknown-file' })
  })
})

describe('framePicture', () => {
  const held = { tiltForwardDeg: 18, tiltSideDeg: -4, turnDeg: 30 }
  const size = { width: 48, height: 40, zoom: { scale: 1.5, x: 0.1, y: 0 } }

  test('is the exact picture of the job held so, whatever pose the job itself has', async () => {
    const { fileId, job } = await importLens()
    const built = await ask('buildMap', { fileId, taskId: 't', job })
    if (built.shown.kind !== 'whole') throw new Error('expected a whole map')
    const { levels } = built.shown
    const scene = sceneWith(job, job.light.lamps[0].pose, held)
    const sets = bakingsOf(scene, levels[0]!).map(bakeTables)
    const wanted = smallPicture(scene, levels, sets, { ...size, grid: 2 })
    const lying = { ...job, view: { ...job.view, pose: { ...job.view.pose, tiltSideDeg: 40 } } }
    const picture = await ask('framePicture', { fileId, taskId: 'f', job: lying, held, ...size })
    expect(picture).toEqual(wanted)
    const straight = await ask('framePicture', { fileId, taskId: 'f', job, held: job.view.pose, ...size })
    expect(straight.rgba).not.toEqual(picture.rgba)
  })

  test('of a size or pose that no window asks for is refused', async () => {
    const { fileId, job } = await importLens()
    for (const change of [
      { width: 4000 },
      { held: { ...held, turnDeg: 1e9 } },
      { zoom: { ...size.zoom, x: Number.NaN } },
    ])
      expect(await raw('framePicture', { fileId, taskId: 'f', job, held, ...size, ...change })).toMatchObject(
        { ok: false, code: 'malformed' },
      )
  })
})

describe('buildMap and assignRoles', () => {
  test('build the planes of the art under the roles of the job', async () => {
    const { fileId, job } = await importLens()
    const built = await ask('buildMap', { fileId, taskId: 't', job })
    const { findings } = built
    const map = wholeMap(built)
    expect([map.width, map.height]).toEqual([lensSize.width, lensSize.height])
    const reader = mapReader(map)
    const lower = reader.sampleInto(20, 60, reader.buffer())
    expect(lower.gratings).toHaveLength(1)
    expect(lower.whites[0]?.coverage).toBe(0)
    const upper = reader.sampleInto(100, 20, reader.buffer())
    expect(upper.gratings).toHaveLength(0)
    expect(upper.cmyk).toEqual([1, 0, 0, 0])
    expect(upper.whites[0]).toMatchObject({ coverage: 1, opacity: 0.5, hits: 1 })
    expect(findings.map(one => one.code)).not.toContain('role-changed')
  })

  test('a role set by hand counts, and its reason says so', async () => {
    const { fileId, job } = await importLens()
    const changed = setRole({ kind: 'layer', id: '4' }, 'ignore', null)(job)
    const { assigned } = await ask('assignRoles', { fileId, job: changed })
    expect(assigned.find(one => one.target.id === '4')).toMatchObject({ role: 'ignore', by: 'job' })
    const map = wholeMap(await ask('buildMap', { fileId, taskId: 't', job: changed }))
    const reader = mapReader(map)
    expect(reader.sampleInto(100, 60, reader.buffer()).cmyk).toEqual([0, 0, 0, 0])
  })

  test('a job that no longer fits its art is told', async () => {
    const { fileId, job } = await importLens()
    const other: Job = {
      ...setRole({ kind: 'layer', id: '99' }, 'white', null)(job),
      found: job.found.map(one => (one.target.id === '4' ? { ...one, role: 'white' } : one)),
    }
    const { findings } = await ask('buildMap', { fileId, taskId: 't', job: other })
    expect(findings.map(one => [one.code, one.where])).toEqual(
      expect.arrayContaining([
        ['target-gone', 'layer 99'],
        ['role-changed', 'layer "Ink"'],
      ]),
    )
  })

  test('a wrong field of the job is named', async () => {
    const { fileId, job } = await importLens()
    const panel = { ...job.panel, widthMm: -1 }
    const reply = await raw('buildMap', { fileId, taskId: 't', job: { ...job, panel } })
    expect(reply.ok ? '' : reply.message).toContain('field "panel.widthMm"')
  })
})

describe('preview', () => {
  const pixel = (picture: Answers['preview'], x: number, y: number) => [
    ...picture.rgba.subarray((y * picture.width + x) * 4, (y * picture.width + x) * 4 + 4),
  ]

  test('shows a layer in colour, see-through around it', async () => {
    const { fileId, job } = await importLens()
    const target = { kind: 'layer', id: '4' }
    const picture = await ask('preview', { fileId, job, target, show: 'colour', size: 60 })
    expect([picture.width, picture.height]).toEqual([60, 40])
    // Cyan of FOGRA39L, L*a*b* 55 −37 −50 on paper of 95 0 −2, relative to that paper, by the engine: 58.2 −38.7 −50.4.
    // In sRGB, worked from CIE 015 and IEC 61966-2-1: 161 and 228, and less red than a screen has.
    expect(pixel(picture, 50, 20)).toEqual([0, 161, 228, 255])
    expect(pixel(picture, 10, 20)[3]).toBe(0)
  })

  test('shows the amount of a channel, white is full', async () => {
    const { fileId, job } = await importLens()
    const id = job.found.find(one => one.role === 'white')?.target.id
    const target = { kind: 'channel', id }
    const picture = await ask('preview', { fileId, job, target, show: 'amount', size: 60 })
    expect(pixel(picture, 30, 5)).toEqual([255, 255, 255, 255])
    expect(pixel(picture, 30, 35)).toEqual([0, 0, 0, 255])
  })

  test('a layer that is not there is refused', async () => {
    const { fileId, job } = await importLens()
    const target = { kind: 'layer', id: '77' }
    expect(await raw('preview', { fileId, job, target, show: 'amount', size: 60 })).toMatchObject({
      code: 'no-such-layer',
    })
  })
})

describe('saveFile', () => {
  const bytes = Uint8Array.of(0x1a, 0x45, 0xdf, 0xa3)

  test('writes what goes out where the user says, and suggests a place beside the art', async () => {
    const { fileId } = await importLens()
    const written = await ask('saveFile', { name: 'lens: tilt.webm', bytes, artFileId: fileId })
    expect(written?.name).toBe('lens_ tilt.webm')
    expect(new Uint8Array(readFileSync(place('lens_ tilt.webm')))).toEqual(bytes)
    expect(JSON.stringify(written)).not.toContain(place())
  })

  test('never writes over the art, and says where it may not write', async () => {
    const { fileId } = await importLens()
    savedAt = place('lens.psd')
    expect(await raw('saveFile', { name: 'lens.webm', bytes, artFileId: fileId })).toMatchObject({
      code: 'same-file',
    })
    savedAt = place('nowhere', 'lens.webm')
    expect(await raw('saveFile', { name: 'lens.webm', bytes, artFileId: fileId })).toMatchObject({
      code: 'unwritable',
    })
  })
})

describe('saveJob', () => {
  test('asks where, names the art from there, and can be opened again', async () => {
    const { fileId, job } = await importLens()
    mkdirSync(place('jobs'))
    savedAt = place('jobs', 'front.job.json')
    const saved = await ask('saveJob', { fileId: null, artFileId: fileId, job })
    expect(saved?.job.art).toEqual({ path: '../lens.psd', sha256: artHash })
    expect(parseJob(readFileSync(savedAt, 'utf8'), 'front.job.json')).toEqual(saved?.job)
    const again = await ask('saveJob', { fileId: saved?.file.id, artFileId: fileId, job })
    expect(again?.file).toEqual(saved?.file)
  })

  test('suggests a name beside the art', async () => {
    const { fileId, job } = await importLens()
    const saved = await ask('saveJob', { fileId: null, artFileId: fileId, job })
    expect(saved?.file.name).toBe('lens.job.json')
    expect(saved?.job.art?.path).toBe('lens.psd')
    const opened = await ask('openJob', { fileId: saved?.file.id })
    expect(opened).toMatchObject({ job: saved?.job, art: { state: 'found', file: { id: fileId } } })
  })

  test('never writes over the art', async () => {
    const { fileId, job } = await importLens()
    savedAt = place('lens.psd')
    expect(await raw('saveJob', { fileId: null, artFileId: fileId, job })).toMatchObject({
      code: 'same-file',
    })
    expect(readFileSync(place('lens.psd')).equals(Buffer.from(art))).toBe(true)
  })

  test('a folder that is not there is said', async () => {
    const { fileId, job } = await importLens()
    savedAt = place('nowhere', 'x.job.json')
    const reply = await raw('saveJob', { fileId: null, artFileId: fileId, job })
    expect(reply).toMatchObject({ ok: false, code: 'unwritable' })
    expect(reply.ok ? '' : reply.message).toContain('the folder is not there')
  })

  test('a job that came by upload has no place to go back to', async () => {
    const { fileId, job } = await importLens()
    writeFileSync(place('up.job.json'), jobText(job))
    const file = await host.adopt(place('up.job.json'), 'up.job.json', 'upload')
    expect(await raw('saveJob', { fileId: file.id, artFileId: fileId, job })).toMatchObject({
      code: 'no-place',
    })
  })
})

describe('openJob', () => {
  test('art that changed is said', async () => {
    const file = await jobNaming('lens.psd')
    writeFileSync(place('lens.psd'), Buffer.concat([art, Buffer.from([0])]))
    expect((await ask('openJob', { fileId: file.id })).art.state).toBe('changed')
  })

  test('art that is missing is said with its name', async () => {
    const file = await jobNaming('gone/lens.psd')
    expect((await ask('openJob', { fileId: file.id })).art).toEqual({
      state: 'missing',
      path: 'gone/lens.psd',
    })
  })

  test.each([
    ['a name that climbs out', () => '../secret.psd'],
    ['an absolute name', () => place('secret.psd')],
    ['a link that leads out', () => 'link.psd'],
    ['a folder that is a link out', () => 'linked/secret.psd'],
  ])('%s is not read until someone agrees', async (_, path) => {
    writeFileSync(place('secret.psd'), art)
    const { job } = await importLens()
    mkdirSync(place('job'))
    symlinkSync(place('secret.psd'), place('job', 'link.psd'))
    symlinkSync(folder, place('job', 'linked'))
    writeFileSync(
      place('job', 'x.job.json'),
      jobText({ ...job, art: { sha256: '', ...job.art, path: path() } }),
    )
    const file = await open(place('job', 'x.job.json'))

    const opened = await ask('openJob', { fileId: file.id })
    expect(opened.art.state).toBe('outside')
    const id = opened.art.state === 'outside' ? opened.art.file.id : ''
    for (const request of ['importArt', 'buildMap'] as const)
      expect(await raw(request, { fileId: id, taskId: 't', job })).toMatchObject({ code: 'art-outside' })
    expect(await raw('assignRoles', { fileId: id, job })).toMatchObject({ code: 'art-outside' })
    const target = { kind: 'layer', id: '4' }
    expect(await raw('preview', { fileId: id, job, target, show: 'colour', size: 60 })).toMatchObject({
      code: 'art-outside',
    })

    const agreed = await ask('openJob', { fileId: file.id, allowOutside: true })
    expect(agreed.art).toMatchObject({ state: 'found', file: { id } })
    expect((await ask('importArt', { fileId: id, taskId: 't' })).sha256).toBe(artHash)
  })

  test('an uploaded job finds no art of its own', async () => {
    const { job } = await importLens()
    writeFileSync(place('up.job.json'), jobText(job))
    const file = await host.adopt(place('up.job.json'), 'up.job.json', 'upload')
    expect((await ask('openJob', { fileId: file.id })).art).toEqual({ state: 'missing', path: 'lens.psd' })
  })

  test('art is no job, and a picture is no text', async () => {
    writeFileSync(place('x.json'), art)
    const file = await open(place('x.json'))
    expect(await raw('openJob', { fileId: file.id })).toMatchObject({ ok: false, code: 'not-text' })
  })
})

describe('recent', () => {
  test('holds what was opened, newest first, across sessions, while it is there', async () => {
    const { fileId, job } = await importLens()
    await ask('saveJob', { fileId: null, artFileId: fileId, job })
    await host.close()
    host = start()
    expect((await ask('recent', {})).map(file => file.name)).toEqual(['lens.job.json', 'lens.psd'])
    rmSync(place('lens.psd'))
    expect((await ask('recent', {})).map(file => file.name)).toEqual(['lens.job.json'])
  })

  test('a list that is damaged is an empty one', async () => {
    mkdirSync(place('data'))
    writeFileSync(place('data', 'recent.json'), '{"not": "a list"')
    expect(await ask('recent', {})).toEqual([])
    await importLens()
    expect((await ask('recent', {})).map(file => file.name)).toEqual(['lens.psd'])
  })
})

describe('adopt', () => {
  test('a folder is refused', async () => {
    await expect(host.adopt(folder)).rejects.toThrow('is a folder')
  })
})

describe('work without art, drafts, the demo', () => {
  const draft = async (job: Job, fileId: string | null, artFileId: string) =>
    ask('keepDraft', { draftId: 'window', fileId, artFileId, job: { ...job } })

  test('a job without art is built, saved, and opened again', async () => {
    const job = { ...blankJob(30, 40), panel: { widthMm: 30, heightMm: 40, resolutionPpi: 72 } }
    const map = wholeMap(await ask('buildMap', { fileId: blankFileId, taskId: 'm', job: { ...job } }))
    expect([map.width, map.height]).toEqual([85, 113])
    savedAt = place('blank.job.json')
    const saved = await ask('saveJob', { fileId: null, artFileId: blankFileId, job: { ...job } })
    expect(saved?.job.art).toBeNull()
    const opened = await ask('openJob', { fileId: saved?.file.id ?? '' })
    expect(opened.art).toEqual({ state: 'none' })
    expect(opened.job).toEqual(job)
  })

  test('a draft brings job and art back to a later sitting, and touches no file of the user', async () => {
    const { job, fileId } = await importLens()
    await draft({ ...job, brief: 'Quiet front' }, null, fileId)
    expect(readdirSync(folder).sort()).toEqual(['data', 'lens.psd'])
    const drafts = await ask('drafts', { draftId: 'window' })
    expect(drafts).toMatchObject([{ id: 'window', name: 'lens.psd' }])
    const opened = await ask('openDraft', { ownId: 'window', draftId: 'window' })
    expect(opened.job.brief).toBe('Quiet front')
    expect(opened).toMatchObject({ file: null, art: { state: 'found', file: { name: 'lens.psd' } } })
    writeFileSync(place('lens.psd'), 'other')
    expect((await ask('openDraft', { ownId: 'window', draftId: 'window' })).art.state).toBe('changed')
    await ask('dropDraft', { draftId: 'window' })
    expect(await ask('drafts', { draftId: 'window' })).toEqual([])
    expect(await raw('openDraft', { ownId: 'window', draftId: 'window' })).toMatchObject({
      code: 'draft-gone',
    })
  })

  test('how a file stands changes when it is written, and is nothing when it is gone', async () => {
    const { fileId } = await importLens()
    const before = await ask('artState', { fileId })
    expect(await ask('artState', { fileId })).toBe(before)
    writeFileSync(place('lens.psd'), 'longer or shorter')
    expect(await ask('artState', { fileId })).not.toBe(before)
    rmSync(place('lens.psd'))
    expect(await ask('artState', { fileId })).toBeNull()
  })

  test('the demo is laid out in the data folder and opened as never saved', async () => {
    const opened = await ask('demo', {})
    expect(opened).toMatchObject({ file: null, name: 'demo.job.json', art: { state: 'found' } })
    expect(readdirSync(place('data', 'demo'))).toContain('demo.psd')
  })

  test('a map is not built twice, not even by a later sitting; for other art it is', async () => {
    const build = async () => {
      const { job, fileId } = await importLens()
      const from = performance.now()
      const map = wholeMap(await ask('buildMap', { fileId, taskId: 'm', job: { ...job } }))
      return { map, ms: performance.now() - from }
    }
    const first = await build()
    await host.close()
    const kept = readdirSync(place('data', 'kept'))
    expect(kept).toHaveLength(2)
    host = start()
    expect((await build()).map).toEqual(first.map)
    await host.close()
    expect(readdirSync(place('data', 'kept'))).toEqual(kept)
    host = start()
    writeFileSync(place('lens.psd'), Buffer.concat([Buffer.from(art), Buffer.from('later')]))
    await build()
    await host.close()
    expect(readdirSync(place('data', 'kept'))).toHaveLength(4)
    host = start()
  })
})

describe('versions, notes and sign-off', () => {
  const note = {
    id: 'note-0001',
    of: null,
    author: 'Client',
    at: '2026-03-04T09:30:00Z',
    text: 'The rings are too quiet',
    place: { xMm: 1, yMm: 1 },
    lamp: { azimuthDeg: 45, elevationDeg: 60, distanceMm: 400, diameterMm: 30 },
    view: {
      pose: { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 },
      eye: { distanceMm: 350, sideDeg: 0, riseDeg: 0 },
    },
    answers: [],
  }
  const ok = {
    role: 'Obligated',
    decision: 'Approved',
    conditions: [],
    reason: '',
    viewing: null,
    display: null,
  }

  test('are those beside the job, and say how it stands now', async () => {
    const file = await jobNaming('lens.psd')
    const { job, art: found } = await ask('openJob', { fileId: file.id })
    if (found.state !== 'found') throw new Error('expected the art')
    const jobFileId = file.id
    const now = { jobFileId, artFileId: found.file.id, job }
    expect(await ask('versions', { jobFileId })).toEqual([])
    expect(await ask('signoff', now)).toBeNull()

    expect(await ask('addNotes', { jobFileId, notes: [note] })).toMatchObject({ added: 1 })
    expect(await raw('addNotes', { jobFileId, notes: [{ ...note, text: '' }] })).toMatchObject({
      ok: false,
      code: 'notes-malformed',
    })
    const back = { ...(await ask('notes', { jobFileId })), notes: [{ ...note, id: 'note-0002' }] }
    writeFileSync(place('back.json'), JSON.stringify(back))
    const returned = await open(place('back.json'))
    const merged = await ask('mergeNotes', { jobFileId, notesFileId: returned.id })
    expect(merged).toMatchObject({ added: 1, mark: { kind: 'newest' } })
    expect((await ask('notes', { jobFileId })).notes).toHaveLength(2)

    const wish = { by: 'Client', ask: [{ name: 'Printer', role: 'Obligated' }], decision: ok }
    const signed = await ask('addSignoff', { ...now, wish })
    expect(signed).toMatchObject({
      name: 'lens.signoff.json',
      broken: [],
      standing: { kind: 'stands' },
      round: { state: { kind: 'open', waiting: ['Printer'] } },
    })
    expect(signed.record.entries.at(-1)).toMatchObject({ notes: { open: 2, settled: 0 } })
    const edited = { ...now, job: { ...job, brief: 'Louder rings' } }
    expect(await ask('signoff', edited)).toMatchObject({ standing: { kind: 'superseded' } })
    expect(
      await raw('addSignoff', { ...now, wish: { ...wish, decision: { ...ok, decision: 'OK' } } }),
    ).toMatchObject({
      ok: false,
      code: 'malformed',
      message: expect.stringContaining('wish.decision.decision'),
    })
  })

  test('two states of a job are shown under one light, with what differs', async () => {
    const file = await jobNaming('lens.psd')
    const { job, art: found } = await ask('openJob', { fileId: file.id })
    if (found.state !== 'found') throw new Error('expected the art')
    const wish = { jobFileId: file.id, artFileId: found.file.id, taskId: 'c', job, width: 32, height: 24 }
    const same = await ask('comparePicture', { ...wish, a: null, b: null })
    expect(same).toMatchObject({ numbers: { max: 0 }, changes: [], a: { width: 32, height: 24 } })
    expect(same.a.rgba).toEqual(same.b.rgba)
    const none = await raw('comparePicture', { ...wish, a: 'ab'.repeat(32), b: null })
    expect(none).toMatchObject({ ok: false, code: 'no-such-version' })
  })
})
