import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import * as edit from '../../core/job/edit.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build } from '../../scripts/build.mjs'
import { type Inked, layeredPdf } from '../support/layered-pdf.ts'
import { runCli } from '../support/run-cli.ts'
import { tiffBytes } from '../support/tiff-bytes.ts'

/** Art that another program saved again, from a terminal. No outside source: our own contract. */

const before = process.cwd()
const folder = mkdtempSync(join(tmpdir(), 'rakelight-again-'))

beforeAll(async () => {
  for (const part of ['workers', 'fonts', 'codecs', 'press']) await build(part)
  process.chdir(folder)
  mkdirSync('plates')
}, 120_000)

afterAll(() => {
  process.chdir(before)
  rmSync(folder, { recursive: true, force: true })
})

const rings: Inked = { layer: 'Holography rings', ink: 'Holo', box: [10, 10, 20, 20] }
const white: Inked = { layer: 'White', ink: 'White', box: [60, 10, 25, 15], cmyk: [0, 0, 0, 0] }
const badge: Inked = { layer: 'Badge', ink: 'Gold', box: [40, 40, 5, 5], cmyk: [0, 0.2, 0.8, 0.1] }
const lens = { kind: 'lens', parameters: {} } as const
const jobIn = (name: string) => parseJob(readFileSync(name, 'utf8'), name)

test('a job is told what moved and vanished, and --keep takes the file with all that was decided', async () => {
  writeFileSync('front.pdf', layeredPdf([rings, white, badge]))
  expect((await runCli('job', 'front.pdf', '-o', 'front.job.json', '--ppi', '150')).code).toBe(0)
  const target = { kind: 'layer', id: 'layer:Holography rings' } as const
  const coat = { opacity: { from: 'contrast', value: 0.7 }, hits: 2, mottle: 0, screen: 'dots' } as const
  const decided = [
    edit.setEffect(target, lens),
    edit.setWhite({ target: { kind: 'channel', id: 'White' }, ...coat, toneGain: 0 }),
    edit.setRole({ kind: 'layer', id: 'layer:Badge' }, 'ignore', null),
    edit.setPanel({ resolutionPpi: 50 }),
  ].reduce((job, change) => change(job), jobIn('front.job.json'))
  writeFileSync('front.job.json', jobText(decided))

  writeFileSync(
    'front.pdf',
    layeredPdf([
      { ...rings, box: [12, 10, 20, 20] },
      { ...white, ink: 'Deck coat' },
    ]),
  )
  const checked = await runCli('check', 'front.job.json', '--json')
  expect(checked.err).toContain(
    [
      'Note: front.pdf has changed since the job was saved; its present state is used.',
      '  gone: "Badge"',
      '  inks that are gone: "Gold"',
      '  renamed: "White" to "Deck coat"',
      '  moved: "Holography rings" 2.0 mm to the right',
      '  To take it into the job: rakelight job',
    ].join('\n'),
  )
  expect(JSON.parse(checked.out).findings).toContainEqual(
    expect.objectContaining({ code: 'art-changed', severity: 'warning' }),
  )

  const kept = await runCli('job', 'front.pdf', '-o', 'front.job.json', '--keep', 'front.job.json')
  expect(kept.code).toBe(0)
  expect(kept.err).toContain('  moved: "Holography rings" 2.0 mm to the right\n')
  expect(kept.err).toContain('layer "Badge": the art no longer has it, but the job decides its part')
  const job = jobIn('front.job.json')
  expect(job.effects).toEqual([{ target, effect: lens }])
  expect(job.whites).toEqual([{ target: { kind: 'channel', id: 'Deck coat' }, ...coat, toneGain: 0 }])
  expect([job.art?.ppi, job.panel.resolutionPpi]).toEqual([150, 50])
  expect((await runCli('check', 'front.job.json')).err).not.toContain('has changed')
}, 120_000)

test('plates are held against their plates', async () => {
  const plate = (left: number) =>
    tiffBytes([
      {
        width: 120,
        height: 80,
        samples: 1,
        bits: 8,
        photometric: 0,
        value: x => (x >= left && x < left + 30 ? 255 : 0),
        fields: [
          [282, 5, [300, 1]],
          [283, 5, [300, 1]],
        ],
      },
    ])
  writeFileSync('plates/front_White.tif', plate(20))
  writeFileSync('plates/front_Black.tif', plate(70))
  expect((await runCli('job', 'plates', '-o', 'plates.job.json')).code).toBe(0)
  writeFileSync('plates/front_White.tif', plate(44))
  const { err } = await runCli('job', 'plates', '-o', 'plates.job.json', '--keep', 'plates.job.json')
  // 24 pixels of 300 an inch.
  expect(err).toContain('moved: "White" 2.0 mm to the right')
  expect((await runCli('job', 'plates', '-o', 'plates.job.json', '--keep', 'plates.job.json')).err).toContain(
    'the same layers and inks in the same places',
  )
})

test('pictures and profile of a job that goes elsewhere are named from there; what is missing is said', async () => {
  const file = (path: string) => ({ path, sha256: 'ab'.repeat(32) })
  const job = edit.putAsset({ id: 'relief', kind: 'heights', files: [file('pictures/lens.png')] })(
    edit.setPrint({ profile: file('press.icc') })(jobIn('front.job.json')),
  )
  writeFileSync('told.job.json', jobText(job))
  mkdirSync('later')
  await runCli('job', 'front.pdf', '-o', 'later/again.job.json', '--keep', 'told.job.json')
  const again = jobIn('later/again.job.json')
  expect([again.art?.path, again.print.profile?.path, again.assets[0]?.files[0]?.path]).toEqual([
    '../front.pdf',
    '../press.icc',
    '../pictures/lens.png',
  ])
  const lost = await runCli('job', 'front.pdf', '-o', 'x.job.json', '--keep', 'nowhere.json')
  expect([lost.code, lost.err]).toEqual([1, expect.stringContaining('nowhere.json')])
  const art = await runCli('job', 'front.pdf', '-o', 'x.job.json', '--keep', 'front.pdf')
  expect([art.code, art.err]).toEqual([1, expect.stringContaining('front.pdf')])
})
