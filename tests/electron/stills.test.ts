import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import { contactLayout } from '../../core/export/stills/contact.ts'
import { usualContact } from '../../core/export/stills/wish.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()
const stills = (...args: string[]) => runCli('stills', 'lens.job.json', ...args)
const read = (name: string) => decodePng(readFileSync(join(folder, name)))

beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-stills-'))
  process.chdir(folder)
  writeFileSync(join(folder, 'lens.psd'), lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  const job = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
  writeFileSync('lens.job.json', jobText({ ...job, panel: { ...job.panel, resolutionPpi: 50 } }))
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('stills', () => {
  test('each cell of a contact sheet is the picture that the job gives held so', async () => {
    const sheet = ['--cell', '48x40', '--tilt', '20,-10,2', '--turn', '0,0,1']
    expect((await stills('-o', 'contact.png', ...sheet)).code).toBe(0)
    const job = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
    const whole = read('contact.png')
    const layout = contactLayout({
      ...usualContact,
      cellWidth: 48,
      cellHeight: 40,
      tilt: { fromDeg: 20, toDeg: -10, count: 2 },
      turn: { fromDeg: 0, toDeg: 0, count: 1 },
    })
    expect([whole.width, whole.height]).toEqual([layout.width, layout.height])
    for (const [row, tiltForwardDeg] of [[1, -10]] as const) {
      const held = { ...job, view: { ...job.view, pose: { ...job.view.pose, tiltForwardDeg } } }
      writeFileSync('held.job.json', jobText(held))
      expect(
        (await runCli('stills', 'held.job.json', '-o', 'one.png', '--what', 'shown', '--size', '48x40')).code,
      ).toBe(0)
      const one = read('one.png')
      const { x, y } = layout.cell(row, 0)
      for (let j = 0; j < 40; j++) {
        const from = ((y + j) * whole.width + x) * 3
        expect(whole.data.slice(from, from + 48 * 3)).toEqual(one.data.slice(j * 48 * 3, (j + 1) * 48 * 3))
      }
    }
  })

  test('a folder gets the frames that the glare check names, panels and lights, and JSON says what is where', async () => {
    const { code, out } = await stills(
      ...[
        '-o',
        'all',
        '--what',
        'best,darkest,glare,panels,lights',
        '--size',
        '32x24',
        '--format',
        'exr',
        '--json',
      ],
    )
    expect(code).toBe(0)
    const { files } = JSON.parse(out) as { files: { file: string; shows: string; bytes: number }[] }
    expect(readdirSync('all').sort()).toEqual(files.map(({ file }) => file.replace(/^all./, '')).sort())
    expect(files.map(({ file }) => file)).toContain(join('all', 'lens-light-booth-alone.exr'))
    expect(files.map(({ file }) => file)).toContain(join('all', 'lens-panel-panel.exr'))
    const checked = await runCli('check', 'lens.job.json', '--json')
    const { findings } = JSON.parse(checked.out) as { findings: { key: string; message: string }[] }
    const said = findings.find(({ key }) => key === 'glare-worst carton')!.message
    const held = /held (.*): /.exec(said)![1]!
    expect(files.find(({ file }) => file.endsWith('lens-glare.exr'))!.shows).toBe(`Worst glare, held ${held}`)
  })

  test.each([
    [['-o', 'x.png', '--what', 'best,glare'], 'one kind of picture goes into one file', 2],
    [['-o', 'x.png', '--what', 'lights'], 'one kind of picture goes into one file', 2],
    [['-o', 'x', '--what', 'hero'], 'got "hero"', 2],
    [['-o', 'x.tif', '--depth', '32'], 'tiff has 8 or 16 bits', 2],
    [['-o', 'x.exr', '--format', 'png'], 'does not go with', 2],
    [['-o', 'x', '--tilt', '0,90,3'], 'from -80 to 80', 2],
    [['-o', 'x', '--tilt', '0,9,0'], 'from 1 to 24', 2],
    [['-o', 'x', '--size', '4x4'], 'at least 16 pixels', 2],
    [['-o', 'lens.psd/x.png'], 'a file stands where a folder should be', 1],
  ] as const)('%j is refused by name', async (args, says, code) => {
    const ran = await stills(...args)
    expect(ran.err).toContain(says)
    expect(ran.code).toBe(code)
  })

  test('a place that cannot be written to keeps what it has', async () => {
    mkdirSync('taken.png')
    const ran = await stills('-o', 'taken.png', '--cell', '16x16', '--tilt', '0,0,1', '--turn', '0,0,1')
    expect(ran.code).toBe(1)
    expect(ran.err).toContain('taken.png')
    expect(readdirSync('.').filter(name => name.includes('part'))).toEqual([])
  })
})
