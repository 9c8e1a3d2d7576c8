import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { sha256Hex } from '../../core/base/sha256.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { pageTexts } from '../support/pdf-text.ts'
import { runCli } from '../support/run-cli.ts'
import { hasTool } from '../support/tools.ts'

let folder: string
const here = process.cwd()

beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-sheet-'))
  process.chdir(folder)
  writeFileSync('lens.psd', lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  const job = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
  writeFileSync('lens.job.json', jobText({ ...job, panel: { ...job.panel, resolutionPpi: 50 } }))
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('report --pdf', () => {
  test('writes a sheet of the job as it is, and lists it as a version', async () => {
    const { code, out } = await runCli(
      'report',
      'lens.job.json',
      '--pdf',
      'lens.pdf',
      '--pixels',
      '80',
      '--json',
    )
    expect(code).toBe(0)
    const said = JSON.parse(out) as { version: string; file: { sha256: string; bytes: number } }
    const bytes = readFileSync('lens.pdf')
    expect(said.file).toEqual({ name: 'lens.pdf', sha256: sha256Hex(bytes), bytes: bytes.length })
    const versions = JSON.parse((await runCli('versions', 'lens.job.json', '--json')).out)
    expect(JSON.stringify(versions)).toContain(said.version)
    if (!hasTool('pdftotext', '-v')) return
    const all = pageTexts(bytes).join(' ')
    expect(all).toMatch(/Findings \(\d+\)/)
    for (const part of ['Worst glare', 'Darkest', 'Booth alone', said.version]) expect(all).toContain(part)
    expect(all).toContain(sha256Hex(readFileSync('lens.psd')))
  })

  test('a place that cannot be written to is named, and nothing is left', async () => {
    const before = readdirSync('.')
    const ran = await runCli('report', 'lens.job.json', '--json')
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('--pdf')])
    const wrong = await runCli('report', 'none.job.json', '--pdf', 'x.pdf')
    expect([wrong.code, wrong.err]).toEqual([1, expect.stringContaining('none.job.json')])
    expect(existsSync('x.pdf')).toBe(false)
    expect(readdirSync('.')).toEqual(before)
  })
})

describe('a printed record', () => {
  test('has pictures while the files are as signed, and none once they are not there', async () => {
    const said = ['--as', 'Ines Halden', '--role', 'must approve', '--decision', 'OK']
    const asked = ['--ask', 'Ines Halden: must approve', '--pdf', 'signed.pdf']
    expect((await runCli('approve', 'lens.job.json', ...said, ...asked)).code).toBe(0)
    rmSync('lens.psd')
    const ran = await runCli('verify', 'lens.signoff.json', '--pdf', 'later.pdf')
    expect(ran.code).toBe(1)
    if (!hasTool('pdftotext', '-v')) return
    const signed = pageTexts(readFileSync('signed.pdf')).join(' ')
    for (const part of [
      'OK: all who must approve have decided.',
      'What was signed is what there is now.',
      'Worst glare',
    ])
      expect(signed).toContain(part)
    const later = pageTexts(readFileSync('later.pdf')).join(' ')
    expect(later).toContain('pictures of it cannot be made any more')
    expect(later).not.toContain('Worst glare')
  })

  test('a record that is not there is named', async () => {
    const ran = await runCli('verify', 'none.signoff.json', '--pdf', 'x.pdf')
    expect([ran.code, ran.err]).toEqual([1, expect.stringContaining('none.signoff.json')])
    expect(existsSync('x.pdf')).toBe(false)
  })
})
