import { createHash } from 'node:crypto'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { encode } from 'fast-png'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { usualTurning } from '../../core/effects/object/turn.ts'
import type { Answers, RequestName } from '../../core/host/contract.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import type { Asset, AssetFile } from '../../core/job/asset.ts'
import type { Job } from '../../core/job/job.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { makeEyepiece } from '../../demo-assets/eyepiece.ts'
import { findAssets } from '../../electron/asset-places.ts'
import { readAssets } from '../../electron/asset-views.ts'
import { createHost } from '../../electron/host.ts'
import type { HostSide } from '../../electron/shell.ts'
import { build } from '../../scripts/build.mjs'
import { cube, meshBytes, meshGlb, meshJson } from '../support/glb.ts'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

/** Pictures and models beside a job, on real files and real worker threads. No outside source: our own contract. */

let folder: string
let host: HostSide
let chosen: readonly string[]
let savedAt: string

const place = (...parts: string[]) => join(folder, ...parts)
const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
const grey = (value: number, width = 8) =>
  encode({ width, height: 6, channels: 1, depth: 8, data: new Uint8Array(6 * width).fill(value) })

function put(name: string, bytes: Uint8Array): AssetFile {
  mkdirSync(join(place(name), '..'), { recursive: true })
  writeFileSync(place(name), bytes)
  return { path: name, sha256: hashOf(bytes) }
}

async function ask<N extends RequestName>(name: N, input: unknown): Promise<Answers[N]> {
  const reply = await dispatch(host.handlers, name, input)
  if (!reply.ok) throw new Error(`${reply.code}: ${reply.message}`)
  return reply.value as Answers[N]
}

async function add(kind: string, ...paths: string[]) {
  chosen = paths.map(path => place(path))
  const files = await ask('chooseAsset', { kind })
  return ask('addAsset', { kind, fileIds: files.map(one => one.id), taskId: 't' })
}

/** A job beside the art with these assets. */
async function jobWith(assets: readonly Asset[]): Promise<Job> {
  await runCli('job', place('lens.psd'), '-o', place('lens.job.json'))
  const job = { ...parseJob(readFileSync(place('lens.job.json'), 'utf8'), 'lens.job.json'), assets }
  writeFileSync(place('lens.job.json'), jobText(job))
  return job
}

const found = async (job: Job, allowOutside = false) =>
  readAssets(await findAssets(place('lens.job.json'), job, allowOutside))

beforeAll(() => build('workers'))

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-assets-'))
  writeFileSync(place('lens.psd'), lensArt())
  chosen = []
  savedAt = place('lens.job.json')
  host = createHost({
    kind: 'desktop',
    version: '1.2.3',
    dialogs: {
      open: async () => place('lens.psd'),
      openArt: async () => [],
      openAsset: async () => chosen,
      saveJob: async () => savedAt,
      saveFile: async () => savedAt,
    },
    dataFolder: place('data'),
    startPath: null,
  })
})

afterEach(async () => {
  await host.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('files that the user chooses', () => {
  test('numbered pictures become views in their order', async () => {
    for (const [name, value] of [
      ['comet-10.png', 255],
      ['comet-2.png', 0],
    ] as const)
      put(name, grey(value))
    const { files, findings } = await add('views', 'comet-10.png', 'comet-2.png')
    expect(files.map(one => one.path)).toEqual(['comet-10.png', 'comet-2.png'])
    expect(findings.map(one => one.message)).toEqual([])
    const job = await jobWith([{ id: 'a', kind: 'views', files }])
    const { pictures } = await ask('assetPictures', { job, assetId: 'a', size: 64 })
    expect(pictures.map(one => [one.width, one.height, one.rgba[0]])).toEqual([
      [8, 6, 0],
      [8, 6, 255],
    ])
  })

  test('a model is drawn from its views, smaller when the page asks for less', async () => {
    put('ring.glb', meshGlb(cube))
    const { files } = await add('model', 'ring.glb')
    const asset: Asset = { id: 'm', kind: 'model', files, turning: { ...usualTurning, views: 5 } }
    const job = await jobWith([asset])
    const { pictures } = await ask('assetPictures', { job, assetId: 'm', size: 100 })
    expect(pictures).toHaveLength(5)
    for (const { width, height, rgba } of pictures) {
      expect(Math.max(width, height)).toBe(100)
      expect(rgba[4 * (Math.floor(height / 2) * width + Math.floor(width / 2))]).toBeGreaterThan(50)
    }
  })

  test('the demo’s eyepiece is fit, and is what its script makes', async () => {
    const bytes = readFileSync(fileURLToPath(new URL('../../demo-assets/eyepiece.glb', import.meta.url)))
    expect(Buffer.compare(bytes, makeEyepiece())).toBe(0)
    put('eyepiece.glb', bytes)
    const { files, findings } = await add('model', 'eyepiece.glb')
    expect(findings).toEqual([])
    expect(files.map(one => one.path)).toEqual(['eyepiece.glb'])
  })

  test('a text model brings what lies beside it, in folders too', async () => {
    const json = {
      ...meshJson(cube),
      buffers: [{ uri: 'parts/ring.bin', byteLength: meshBytes(cube).length }],
    }
    put('models/ring.gltf', new TextEncoder().encode(JSON.stringify(json)))
    put('models/parts/ring.bin', meshBytes(cube))
    const { files } = await add('model', 'models/ring.gltf')
    expect(files.map(one => one.path)).toEqual(['ring.gltf', 'parts/ring.bin'])
    const job = await jobWith([{ id: 'm', kind: 'model', files, turning: usualTurning }])
    const art = await ask('chooseFile', { what: 'art' })
    const saved = await ask('saveJob', { fileId: null, artFileId: art?.id, job })
    expect(saved?.job.assets[0]?.files.map(one => one.path)).toEqual([
      'models/ring.gltf',
      'models/parts/ring.bin',
    ])
    const read = await found(saved!.job)
    expect(read.findings).toEqual([])
    expect(read.views('m')).toHaveLength(usualTurning.views)
  })

  test.each<[string, string, readonly [string, Uint8Array][], RegExp]>([
    [
      'pictures without numbers',
      'views',
      [
        ['a.png', grey(0)],
        ['b1.png', grey(0)],
      ],
      /a\.png: .*no number/,
    ],
    ['a picture that is none', 'heights', [['a.png', new Uint8Array(50)]], /a\.png: byte 0: is not a PNG/],
    [
      'two heights',
      'heights',
      [
        ['a.png', grey(0)],
        ['b.png', grey(0)],
      ],
      /2 pictures were chosen/,
    ],
    ['a model that is none', 'model', [['a.glb', grey(0)]], /a\.glb: the file: is not a glTF model/],
    ['no model', 'model', [['a.png', grey(0)]], /a\.png: .*is not a \.glb or \.gltf/],
  ])('are refused by name: %s', async (_, kind, files, reason) => {
    for (const [name, bytes] of files) put(name, bytes)
    await expect(add(kind, ...files.map(([name]) => name))).rejects.toThrow(reason)
  })

  test('a link beside a model does not lead out of its folder', async () => {
    put('secret.bin', meshBytes(cube))
    const json = { ...meshJson(cube), buffers: [{ uri: 'ring.bin', byteLength: 12 * 24 + 4 * 36 }] }
    put('models/ring.gltf', new TextEncoder().encode(JSON.stringify(json)))
    symlinkSync(place('secret.bin'), place('models/ring.bin'))
    await expect(add('model', 'models/ring.gltf')).rejects.toThrow(/"ring\.bin" is not beside it/)
  })

  test('a page names no file that was not chosen', async () => {
    const files = [put('comet-1.png', grey(0)), put('comet-2.png', grey(0))]
    const job = await jobWith([{ id: 'a', kind: 'views', files }])
    expect(await ask('assetPictures', { job, assetId: 'a', size: 64 })).toEqual({
      pictures: [],
      findings: [],
    })
  })
})

describe('the assets of a job', () => {
  const views = (files: readonly AssetFile[]): Asset => ({ id: 'comet', kind: 'views', files })

  test('are found again when the job is opened', async () => {
    const files = [put('views/comet-1.png', grey(0)), put('views/comet-2.png', grey(255))]
    const job = await jobWith([views(files)])
    const { id } = await host.adopt(place('lens.job.json'))
    await ask('openJob', { fileId: id })
    const { pictures } = await ask('assetPictures', { job, assetId: 'comet', size: 64 })
    expect(pictures.map(one => one.rgba[0])).toEqual([0, 255])
  })

  test('that are missing, changed or outside are told, and the rest is shown', async () => {
    const files = [1, 2, 3].map(n => put(`comet-${n}.png`, grey(n)))
    rmSync(place('comet-2.png'))
    put('comet-3.png', grey(200))
    const job = await jobWith(
      [views(files), views([{ path: '../far/comet-1.png', sha256: 'a'.repeat(64) }])].map((one, i) => ({
        ...one,
        id: `comet-${i}`,
      })),
    )
    const read = await found(job)
    expect(read.findings.map(({ code, where }) => [code, where])).toEqual([
      ['asset-missing', 'comet-0, file "comet-2.png"'],
      ['asset-changed', 'comet-0, file "comet-3.png"'],
      ['asset-outside', 'comet-1, file "../far/comet-1.png"'],
    ])
    expect(read.views('comet-0')).toHaveLength(2)
    expect(read.views('comet-1')).toBeUndefined()
  })

  test('outside the job’s folder are read once the user has agreed', async () => {
    const outside = mkdtempSync(join(tmpdir(), 'rakelight-far-'))
    try {
      for (const n of [1, 2]) writeFileSync(join(outside, `v${n}.png`), grey(9))
      const files = [1, 2].map(n => ({ path: join(outside, `v${n}.png`), sha256: hashOf(grey(9)) }))
      const job = await jobWith([views(files)])
      expect((await found(job)).views('comet')).toBeUndefined()
      expect((await found(job, true)).views('comet')).toHaveLength(2)
    } finally {
      rmSync(outside, { recursive: true, force: true })
    }
  })

  test('that cannot be read are an error in the findings, not the end', async () => {
    const job = await jobWith([
      {
        id: 'm',
        kind: 'model',
        files: [put('ring.glb', meshGlb(cube).subarray(0, 100))],
        turning: usualTurning,
      },
      { id: 'h', kind: 'heights', files: [put('height.png', grey(77))] },
    ])
    const { findings, views } = await found(job)
    expect(findings).toHaveLength(1)
    expect(findings[0]).toMatchObject({
      severity: 'error',
      code: 'model-malformed',
      where: expect.stringContaining('ring.glb'),
    })
    expect(views('h')?.[0]?.data).toBeInstanceOf(Uint16Array)
  })

  test('the command line builds the map all the same', async () => {
    const job = await jobWith([views([{ path: 'comet-1.png', sha256: 'a'.repeat(64) }])])
    expect(job.assets).toHaveLength(1)
    const { code, err } = await runCli('probe', place('lens.job.json'), '--x', '5', '--y', '5', '--json')
    expect(err).toContain('comet, file "comet-1.png": is not there, so what it shows is left out')
    expect(code).toBe(0)
  })
})
