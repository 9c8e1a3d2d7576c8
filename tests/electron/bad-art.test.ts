import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { build } from '../../scripts/build.mjs'
import { badArt } from '../support/bad-art.ts'
import { runCli } from '../support/run-cli.ts'

/** What the commands say of art that is not in order. No outside source: our own contract of exit codes and messages. */

const before = process.cwd()
const folder = mkdtempSync(join(tmpdir(), 'rakelight-bad-art-'))
const demo = resolve('tests/fixtures/art/built__separations-ocg-iso19593.pdf')

beforeAll(async () => {
  for (const part of ['workers', 'fonts', 'codecs', 'press']) await build(part)
  process.chdir(folder)
  for (const [name, bytes] of Object.entries(await badArt())) writeFileSync(name, bytes)
  mkdirSync('empty')
}, 120_000)

afterAll(() => {
  process.chdir(before)
  rmSync(folder, { recursive: true, force: true })
})

/** What is wrong, where, and what to do about it. */
const refused: readonly (readonly [name: string, problem: RegExp, where: RegExp, remedy: RegExp])[] = [
  ['locked.pdf', /locked by a password/, /encryption/, /--password.*RAKELIGHT_PASSWORD/s],
  ['cut.pdf', /says that it has \d+ bytes, and has \d+/, /end of the file/, /Copy or send it again/],
  ['many-inks.pdf', /more than 64 inks/, /ink "Ink60"/, /Save it with the inks that are printed/],
  ['no-area.pdf', /media box without area/, /page 1/, /Export the art anew with its page size/],
  ['no-size.svg', /0 × 0 mm/, /the page/, /Give it a size/],
  ['half.svg', /not well-formed/, /line 4/, /Save the drawing again/],
  ['lying.tif', /the file at byte \d+/, /page 1, strip 1/, /save it again/],
  ['long.tif', /the file at byte \d+/, /page 1, strip 1/, /save it again/],
  ['cut.tif', /cut short/, /page 1, byte 288/, /save it again/],
  ['empty.png', /cut off/, /byte 57/, /Save or copy it again/],
  ['cut.jpg', /cut off/, /byte 2/, /save it again/],
  ['cut.psd', /cut short/, /byte 4/, /save it again/],
  ['notes.txt', /no kind of art that is read/, /byte 0/, /PDF or TIFF/],
  ['nothing.pdf', /is empty/, /byte 0/, /fresh copy/],
  ['nowhere.pdf', /is not there/, /the file/, /Check its name/],
  ['empty', /folder without TIFF, PNG or JPEG/, /the path/, /one image a plate/],
]

test.each(refused)(
  '%s is refused by every command, with the reason, the place and what to do',
  async (name, ...words) => {
    for (const command of [['inspect'], ['channels'], ['job', '-o', 'x.job.json']] as const) {
      const [called, ...flags] = command
      const { code, out, err } = await runCli(called, name, ...flags)
      expect([called, code, out]).toEqual([called, 1, ''])
      expect(err).toContain(`rakelight: ${name}: `)
      for (const word of words) expect(err).toMatch(word)
    }
  },
)

describe('art that is read all the same', () => {
  const findings = async (
    name: string,
  ): Promise<readonly { code: string; severity: string; where: string }[]> =>
    JSON.parse((await runCli('inspect', name, '--json')).out).findings

  test('inks named All and None: told, and no ink of the list', async () => {
    expect(await findings('all-none.pdf')).toMatchObject([
      { code: 'pdf-ink-all', where: 'ink "All"' },
      { code: 'pdf-ink-none', where: 'ink "None"' },
    ])
    const { out } = await runCli('channels', 'all-none.pdf', '--ppi', '72', '--json')
    const inks: readonly { name: string; coverage: number }[] = JSON.parse(out).channels
    expect(inks.map(one => one.name)).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black', 'Gold'])
    // One square inch of ten by five in All; a second one in Gold itself.
    expect(inks.map(one => one.coverage)).toEqual([0.02, 0.02, 0.02, 0.02, 0.04])
  })

  test('a form that is part of itself, a page of 14 m, RGB without a profile: read, with a finding', async () => {
    expect(await findings('recursive.pdf')).toMatchObject([{ severity: 'error', where: 'page 1, form "F"' }])
    expect(await findings('wide.pdf')).toMatchObject([{ severity: 'warning', code: 'size-doubtful' }])
    expect(await findings('rgb.pdf')).toMatchObject([{ severity: 'note', where: 'colours' }])
    const made = await runCli('job', 'wide.pdf', '-o', 'wide.job.json')
    expect([made.code, made.err]).toEqual([
      0,
      expect.stringContaining('Note: 1 fault of the art; inspect lists it.'),
    ])
  })

  test('pictures outside of a drawing are named by their lines; no other way of reading is offered for them', async () => {
    expect(await findings('linked.svg')).toMatchObject([
      { code: 'svg-external', where: 'line 3 of the file' },
      { code: 'svg-external', where: 'line 4 of the file' },
    ])
    expect((await runCli('inspect', 'linked.svg')).out).not.toContain('--layers-only')
    expect((await runCli('job', 'linked.svg', '-o', 'svg.job.json')).err).toContain('2 faults of the art')
  })
})

test('a job whose art is spoilt is refused by check and frames, by the name of the art', async () => {
  copyFileSync(demo, 'front.pdf')
  expect((await runCli('job', 'front.pdf', '-o', 'front.job.json')).code).toBe(0)
  copyFileSync('cut.pdf', 'front.pdf')
  for (const command of [
    ['check'],
    ['frames', '--out', 'frames', '--frames', '2', '--size', '32x32'],
  ] as const) {
    const [called, ...flags] = command
    const { code, err } = await runCli(called, 'front.job.json', ...flags)
    expect([called, code]).toEqual([called, 1])
    expect(err).toContain('front.pdf: end of the file: is laid out for the web')
  }
}, 60_000)

test('a password that opens is taken from the flag, and a wrong one is said', async () => {
  expect((await runCli('inspect', 'locked.pdf', '--password', 'comet')).code).toBe(0)
  const wrong = await runCli('inspect', 'locked.pdf', '--password', 'tail fin')
  expect([wrong.code, wrong.err]).toEqual([1, expect.stringMatching(/password/)])
})
