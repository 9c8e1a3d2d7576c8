import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readXml } from '../../core/base/xml.ts'
import { knownLimits } from '../../core/checks/known-limits.ts'
import type { ListedFinding } from '../../core/checks/run.ts'
import { cartonFor } from '../../core/job/carton.ts'
import { setCarton, setForm } from '../../core/job/edit.ts'
import { setLimit, waive } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()
const check = (...args: string[]) => runCli('check', ...args)
const write = (name: string, ...edits: readonly ((job: Job) => Job)[]) => {
  const plain = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
  writeFileSync(name, jobText(edits.reduce((job, edit) => edit(job), plain)))
}
interface Report {
  readonly job: string
  readonly design: string
  readonly versions: object
  readonly sums: { readonly fails: number; readonly waived: number }
  readonly findings: readonly ListedFinding[]
  readonly waived: readonly object[]
}

beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-check-'))
  process.chdir(folder)
  writeFileSync('lens.psd', lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  // A carton without a length cannot be made, whatever else is found.
  write('broken.job.json', job => setCarton(cartonFor(job.panel))(job), setForm({ lengthMm: 0 }))
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('rakelight check', () => {
  test('a job that fails has exit code 3, in JSON, SARIF and JUnit alike; once it is waived it passes there', async () => {
    const failing = await check('broken.job.json', '--json', '--sarif', 'found.sarif', '--junit', 'found.xml')
    const report = JSON.parse(failing.out) as Report
    expect(report).toMatchObject({ job: 'broken.job.json', design: 'Base', versions: { job: 3 } })
    const errors = report.findings.filter(one => one.severity === 'error')
    expect(errors.some(one => one.where.startsWith('carton'))).toBe(true)
    expect(report.sums.fails).toBe(errors.length)
    expect(failing.code).toBe(3)
    expect(failing.err).toMatch(/rakelight: \d+ findings? fails?/)
    const [run] = JSON.parse(readFileSync('found.sarif', 'utf8')).runs
    expect(run.results).toHaveLength(report.findings.length)
    const suites = readXml(readFileSync('found.xml'), 'found.xml')
    expect(suites.attributes.failures).toBe(String(errors.length))

    const signed = { reason: 'a try', by: 'I. Halden', on: '2026-03-31' }
    const edits = errors.map(({ key }) => waive({ key, ...signed }))
    write('waived.job.json', job => setCarton(cartonFor(job.panel))(job), setForm({ lengthMm: 0 }), ...edits)
    const waived = await check('waived.job.json', '--json')
    expect(waived.code).toBe(0)
    const after = JSON.parse(waived.out) as Report
    expect(after.findings).toHaveLength(report.findings.length)
    expect(after.sums).toMatchObject({ fails: 0, waived: errors.length })
    expect(after.waived).toHaveLength(errors.length)
  })

  test('a table says it for people', async () => {
    const { code, out } = await check('broken.job.json')
    expect(code).toBe(3)
    expect(out).toMatch(
      /^broken\.job\.json, design Base\n {2}\d+ fails?, \d+ warnings?, \d+ notes?, 0 waived/,
    )
    expect(out).toContain('carton')
  })

  test('limits are listed with unit, status and source; the job’s own with its note', async () => {
    const plain = await check('--limits', '--json')
    expect(plain.code).toBe(0)
    const { limits } = JSON.parse(plain.out)
    expect(limits.map((one: { key: string }) => one.key)).toEqual(Object.keys(knownLimits))
    for (const one of limits) expect(one.source).not.toBe('')
    const [key, limit] = Object.entries(knownLimits)[0]!
    write('own.job.json', setLimit(key, limit.range[1], 'plant 7'), setLimit('moon', 1, 'later'))
    const own = JSON.parse((await check('own.job.json', '--limits', '--json')).out)
    expect(own.limits[0]).toMatchObject({ key, value: limit.range[1], status: 'own', source: 'plant 7' })
    expect(own.unknown).toEqual(['moon'])
    expect((await check('own.job.json', '--limits')).out).toContain('plant 7')
  })

  test('a limit outside its range is named', async () => {
    const [key, limit] = Object.entries(knownLimits)[0]!
    write('wild.job.json', setLimit(key, limit.range[1] + 1, 'a slip'))
    const { code, err } = await check('wild.job.json')
    expect(code).toBe(1)
    expect(err).toContain(key)
    expect(err).toContain('Set it within that range')
  })

  test.each([
    [['none.job.json'], 1, 'none.job.json'],
    [['lens.job.json', '--design', 'Night'], 1, 'no design "Night"'],
    [['lens.job.json', '--sheet', 'x'], 2, '--sheet'],
    [[], 2, 'JOB is missing'],
    [['--limits', '--sarif', 'x'], 2, '--sarif'],
  ] as const)('%j is refused', async (args, code, says) => {
    const ran = await check(...args)
    expect(ran.code).toBe(code)
    expect(ran.err).toContain(says)
  })

  test('a file that cannot be written is named', async () => {
    const { code, err } = await check('lens.job.json', '--sarif', join(folder, 'lens.psd', 'x.sarif'))
    expect(code).toBe(1)
    expect(err).toContain('x.sarif')
  })
})
