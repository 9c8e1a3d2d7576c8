import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { usualWish } from '../../core/export/plate-wish.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { createHost } from '../../electron/host.ts'
import { build, workParts } from '../../scripts/build.mjs'
import { plateArt } from '../support/plate-art.ts'
import { readPlates } from '../support/read-plates-pdf.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()
const plates = (...args: string[]) => runCli('plates', ...args)

beforeAll(async () => {
  for (const part of [...workParts, 'cli']) await build(part)
  folder = mkdtempSync(join(tmpdir(), 'rakelight-plates-cli-'))
  process.chdir(folder)
  writeFileSync('wedge.psd', plateArt())
  await runCli('job', 'wedge.psd', '-o', 'wedge.job.json')
  mkdirSync('empty')
})
afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('rakelight plates', () => {
  test('writes a PDF and a picture of each plate into a folder that it makes', async () => {
    const { code, out, err } = await plates('wedge.job.json', '-o', 'out/plates', '--json')
    expect([code, err]).toEqual([0, expect.stringContaining('Wrote 11 files to out/plates: version ')])
    expect(err).toContain('overprint preview')
    const said = JSON.parse(out)
    expect(said.plates.map((one: { name: string; reading: string }) => [one.name, one.reading])).toEqual(
      ['White', 'Cyan', 'Magenta', 'Yellow', 'Black', 'Comet orange', 'Varnish', 'Dieline'].map(name => [
        name,
        'right',
      ]),
    )
    expect(said.sheet).toMatchObject({ trimMm: [24.48, 16.32], bleedMm: [3, 2, 3, 2] })
    expect(readdirSync('out/plates').toSorted()).toEqual(
      said.files.map(({ file }: { file: string }) => file).toSorted(),
    )
    const list = JSON.parse(readFileSync('wedge.versions.json', 'utf8'))
    expect(list.versions.at(-1)).toMatchObject({
      version: { id: said.version },
      files: [{ name: 'out/plates/wedge.plates.pdf' }],
    })
    expect(said.findings.map(({ code }: { code: string }) => code)).toContain('bleed-short')
  })

  test('says in words what they are, and turns what is asked for', async () => {
    const { code, out } = await plates(
      'wedge.job.json',
      '-o',
      'one.pdf',
      '--reading',
      'white=wrong',
      '--for',
      'press',
    )
    expect(code).toBe(0)
    expect(out).toMatch(/White +white +wrong reading +8\.3 % +\d+ % +White/)
    expect(out).toMatch(/Cyan +process +right reading +8\.3 %/)
    const { pages } = await readPlates(readFileSync('one.pdf'))
    expect(pages.map(({ images }) => [...images.keys()].length)).toEqual([7, 1])
    expect(readdirSync('.').filter(name => name.endsWith('.tif'))).toEqual([])
  })

  test('writes outlines alone, mm, and says nothing of overprint', async () => {
    const { code, err } = await plates('wedge.job.json', '-o', 'lines.svg')
    expect([code, err]).toEqual([0, expect.stringContaining('Wrote 1 file to ')])
    expect(err).not.toContain('overprint')
    const svg = readFileSync('lines.svg', 'utf8')
    // 24.48 × 16.32 mm of trim, 3 and 2 mm of bleed.
    expect(svg).toContain('width="30.48mm" height="20.32mm" viewBox="0 0 30.48 20.32"')
    expect([...svg.matchAll(/<title>(.*?)<\/title>/g)].map(([, name]) => name)).toEqual([
      'wedge',
      'cut',
      'crease',
      'Holo comet',
      'White',
    ])
  })

  test('a job without art has the white of its sketch, and that is said', async () => {
    const blank = { ...blankJob(40, 30), sketch: { whitePart: 0.5 } }
    writeFileSync('blank.job.json', jobText(blank))
    const { code, out } = await plates('blank.job.json', '-o', 'blank.pdf')
    expect(code).toBe(0)
    expect(out).toContain('no art: its only plate is the white of the sketch')
    expect(out).toMatch(/White +white +right reading +50\.0 %/)
  })

  test.each([
    [['--for', 'web'], '--for: expected overlay or press, got "web"'],
    [['--reading', 'white=left'], '--reading: expected right, wrong, or GROUP=right|wrong'],
    [['--reading', 'white=right,white=wrong'], '--reading: white is given twice'],
    [['--marks', 'some'], '--marks: expected on or off, got "some"'],
    [['--bleed', '-1'], '--bleed: expected 0 to 25 mm, got -1'],
    [['--plates', ','], '--plates: expected names, comma between'],
  ])('%j is refused', async (flags, words) => {
    const { code, err } = await plates('wedge.job.json', '-o', 'empty/no.pdf', ...flags)
    expect([code, err]).toEqual([2, expect.stringContaining(words)])
    expect(readdirSync('empty')).toEqual([])
  })

  test('a plate that is not there is named with those that are', async () => {
    const { code, err } = await plates('wedge.job.json', '-o', 'empty/no.pdf', '--plates', 'White,Gold')
    expect([code, err]).toEqual([1, expect.stringMatching(/plate "Gold".*Choose among White, Cyan/)])
    expect(readdirSync('empty')).toEqual([])
  })

  test('a file where a folder should be', async () => {
    const { code, err } = await plates('wedge.job.json', '-o', 'wedge.psd/plates.pdf')
    expect([code, err]).toEqual([1, expect.stringContaining('Choose another place')])
  })

  // As root every folder may be written.
  test.skipIf(process.getuid?.() === 0)('a folder that may not be written', async () => {
    mkdirSync('locked', { mode: 0o500 })
    const { code, err } = await plates('wedge.job.json', '-o', 'locked/plates.pdf')
    expect([code, err]).toEqual([1, expect.stringContaining('you may not write there')])
    expect(readdirSync('locked')).toEqual([])
  })

  // A limit on a file's size stops the write in its middle, as a full disk does.
  test.skipIf(process.platform === 'win32')('a write that fails in its middle leaves nothing behind', () => {
    const launcher = fileURLToPath(new URL('../../scripts/rakelight.mjs', import.meta.url))
    const { status, stderr } = spawnSync(
      'bash',
      [
        '-c',
        `trap '' XFSZ; ulimit -f 16; exec "$@"`,
        'bash',
        process.execPath,
        launcher,
        'plates',
        'wedge.job.json',
        '-o',
        'empty/full.pdf',
      ],
      { encoding: 'utf8' },
    )
    expect([status, stderr]).toEqual([1, expect.stringContaining('full.pdf: writing to empty/full.pdf')])
    expect(readdirSync('empty')).toEqual([])
  })
})

describe('the request of the window', () => {
  test('makes plates of an open job, and stops when it is told to', async () => {
    const host = createHost({
      kind: 'desktop',
      version: '1.2.3',
      dialogs: {
        open: async () => join(folder, 'wedge.psd'),
        openArt: async () => [],
        openAsset: async () => [],
        saveJob: async () => null,
        saveFile: async () => null,
      },
      dataFolder: join(folder, 'data'),
      startPath: null,
    })
    try {
      const ask = async (name: string, input: unknown) => dispatch(host.handlers, name, input)
      const chosen = await ask('chooseFile', { what: 'art' })
      const { id: fileId } = (chosen as unknown as { value: { id: string } }).value
      const job = parseJob(readFileSync('wedge.job.json', 'utf8'), 'wedge.job.json')
      const wish = { ...usualWish, formats: ['pdf', 'tiff'] }
      const order = { fileId, job, jobName: 'wedge', wish }
      const made = await ask('makePlates', { ...order, taskId: 'a' })
      expect(made).toMatchObject({ ok: true, value: { plates: { length: 8 }, files: { length: 10 } } })
      const reply = ask('makePlates', { ...order, taskId: 'b' })
      await ask('cancel', { taskId: 'b' })
      expect(await reply).toMatchObject({ ok: false, code: 'cancelled' })
      const wrong = await ask('makePlates', { ...order, taskId: 'c', wish: { ...wish, bleedMm: 99 } })
      expect(wrong).toMatchObject({
        ok: false,
        code: 'malformed',
        message: expect.stringContaining('wish.bleedMm'),
      })
    } finally {
      await host.close()
    }
  })
})
