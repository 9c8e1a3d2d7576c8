import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { PDFDocument } from '../../core/base/pdf.ts'
import { encodePng } from '../../core/base/png.ts'
import type { Answers, RequestName } from '../../core/host/contract.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import { createHost } from '../../electron/host.ts'
import type { HostSide } from '../../electron/shell.ts'
import { build } from '../../scripts/build.mjs'

/** PDFs as the page asks for them, on real files and real worker threads. No outside source: our own contract. */

const fixture = 'tests/fixtures/art/built__separations-ocg-iso19593.pdf'
const folder = mkdtempSync(join(tmpdir(), 'rakelight-pages-'))
const place = (name: string) => join(folder, name)

let host: HostSide
let chosen: readonly string[] = []

async function ask<N extends RequestName>(name: N, input: unknown): Promise<Answers[N]> {
  const reply = await dispatch(host.handlers, name, input)
  if (!reply.ok) throw Object.assign(new Error(reply.message), { code: reply.code })
  return reply.value as Answers[N]
}

async function open(...names: readonly string[]) {
  chosen = names.map(place)
  return ask('chooseArt', { what: 'any' })
}

/** Two blank pages, each with its size in mm, and with a password where one is given. */
async function twoPages(password?: string): Promise<Uint8Array> {
  const document = await PDFDocument.create()
  for (const side of [100, 200]) document.addPage([(side / 25.4) * 72, (50 / 25.4) * 72])
  if (password !== undefined) document.encrypt({ userPassword: password, ownerPassword: `${password} too` })
  return document.save()
}

beforeAll(async () => {
  for (const part of ['workers', 'fonts', 'codecs', 'press']) await build(part)
  copyFileSync(fixture, place('front.pdf'))
  writeFileSync(place('two.pdf'), await twoPages())
  writeFileSync(place('locked.pdf'), await twoPages('comet'))
  host = createHost({
    kind: 'desktop',
    version: '1.2.3',
    dialogs: {
      open: async () => null,
      openArt: async what => (what === 'plates' ? [place('plates')] : chosen),
      openAsset: async () => [],
      saveJob: async () => place('front.job.json'),
      saveFile: async () => null,
    },
    dataFolder: place('data'),
    startPath: null,
  })
})

afterAll(async () => {
  await host.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('a PDF', () => {
  test('is read at the resolution asked for, built, and saved with how it was read', async () => {
    const [file] = await open('front.pdf')
    const fileId = file!.id
    const { art, job, assigned } = await ask('importArt', { fileId, taskId: 't', reading: { ppi: 72 } })
    expect(art).toMatchObject({ format: 'PDF', resolutionPpi: 72, page: { count: 1 } })
    expect(art.layers.some(layer => layer.outlines !== undefined)).toBe(false)
    expect(assigned.map(one => one.role)).toContain('holography')
    const coarse = { ...job, panel: { ...job.panel, resolutionPpi: 72 } }
    const map = await ask('buildMap', { fileId, taskId: 'm', job: coarse })
    expect(map.shown.kind).toBe('whole')
    const saved = await ask('saveJob', { fileId: null, artFileId: fileId, job: coarse })
    expect(saved?.job.art).toEqual({ ...job.art, path: 'front.pdf', ppi: 72 })
    expect(JSON.parse(readFileSync(place('front.job.json'), 'utf8')).art.ppi).toBe(72)
  })

  test('of several pages shows each small, and reads the one that is asked for', async () => {
    const [file] = await open('two.pdf')
    const { count, pages } = await ask('artPages', { fileId: file!.id, taskId: 'p', size: 64 })
    expect(count).toBe(2)
    expect(pages.map(one => [one.number, Math.round(one.widthMm), one.picture!.width])).toEqual([
      [1, 100, 64],
      [2, 200, 64],
    ])
    const { art, job } = await ask('importArt', {
      fileId: file!.id,
      taskId: 't',
      reading: { page: 2, ppi: 36 },
    })
    expect(art.page).toMatchObject({ number: 2, count: 2 })
    expect(job.panel.widthMm).toBeCloseTo(200, 0)
  })

  test('that is locked wants its password, keeps it for this sitting, and nothing of it comes to the disk', async () => {
    const [file] = await open('locked.pdf')
    const read = (password: string | null) =>
      ask('importArt', { fileId: file!.id, taskId: 't', reading: { ppi: 36 }, password })
    await expect(read(null)).rejects.toMatchObject({ code: 'password-needed' })
    await expect(read('star')).rejects.toMatchObject({ code: 'password-wrong' })
    const { job } = await read('comet')
    expect((await read(null)).art.page?.count).toBe(2)
    const { assigned } = await ask('assignRoles', { fileId: file!.id, job })
    expect(assigned).toEqual([])
    const kept = readdirSync(place('data'), { recursive: true, withFileTypes: true }).filter(one =>
      one.isFile(),
    )
    for (const one of kept)
      expect(readFileSync(join(one.parentPath, one.name)).includes('comet'), one.name).toBe(false)
  })
})

describe('a folder of plates', () => {
  const plate = (level: number) =>
    encodePng({ width: 8, height: 8, channels: 1, data: new Uint8Array(64).fill(level) })

  test('is chosen whole, read by the names of its pictures, and what else lies in it is left alone', async () => {
    mkdirSync(join(place('plates'), 'earlier.png'), { recursive: true })
    for (const [name, level] of [
      ['Cyan', 0],
      ['White', 128],
    ] as const)
      writeFileSync(join(place('plates'), `rings (${name}).png`), plate(level))
    for (const name of ['to the printer.txt', '.rings (Black).png'])
      writeFileSync(join(place('plates'), name), 'x')
    const [first, ...others] = await ask('chooseArt', { what: 'plates' })
    expect([first, ...others].map(one => one?.name)).toEqual(['rings (Cyan).png', 'rings (White).png'])
    const besideIds = others.map(one => one.id)
    const { art } = await ask('importArt', { fileId: first!.id, taskId: 't', besideIds })
    expect(art.format).toBe('plates')
    expect(art.channels.map(one => one.name)).toEqual(['White'])
    const told = art.findings.filter(one => one.code === 'resolution-missing')
    expect(told.map(one => one.where)).toEqual(['rings (Cyan).png, resolution'])
  }, 60_000)

  test('without a picture in it is said to be none', async () => {
    rmSync(place('plates'), { recursive: true })
    mkdirSync(place('plates'))
    await expect(ask('chooseArt', { what: 'plates' })).rejects.toMatchObject({ code: 'folder-empty' })
  })
})
