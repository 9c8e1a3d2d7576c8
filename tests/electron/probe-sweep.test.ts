import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { SweepTable } from '../../core/job/probe-sweep.ts'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-sweep-'))
  process.chdir(folder)
  writeFileSync(join(folder, 'lens.psd'), lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

async function sweep(x: string, y: string): Promise<SweepTable> {
  const { code, out, err } = await runCli('probe', 'lens.job.json', '--x', x, '--y', y, '--sweep', '--json')
  if (code !== 0) throw new Error(err)
  return JSON.parse(out) as SweepTable
}

test('a sweep is told as a table and as JSON, and the two agree', async () => {
  const found = await sweep('3', '3')
  expect(found.rows.map(row => row.tiltForwardDeg)).toEqual(Array.from({ length: 25 }, (_, i) => -60 + 5 * i))
  const { out } = await runCli('probe', 'lens.job.json', '--x', '3', '--y', '3', '--sweep')
  const straight = found.rows[12]!.seen.map(one => one!.XYZ[1].toFixed(3))
  expect(out.replace(/ +/g, ' ')).toContain(`\n 0° ${straight.join(' ')}`)
})

test('nothing of the table is brighter than the brightest at the job’s turn, nor darker than the darkest', async () => {
  const found = await sweep('3', '3')
  for (const row of found.rows) {
    const Y = row.seen[0]!.XYZ[1]
    expect(Y).toBeLessThanOrEqual(found.brightest!.XYZ[1])
    expect(Y).toBeGreaterThanOrEqual(found.darkest!.XYZ[1])
  }
  expect(found.brightest!.XYZ[1]).toBeGreaterThan(found.now!.XYZ[1])
})

test('straight on, the row of the table is the job’s own view', async () => {
  const found = await sweep('3', '3')
  expect(found.rows[12]!.seen[0]).toEqual(found.now)
})

test('a sweep without a job, beside the panel, or with another lamp is refused', async () => {
  const refused = async (...args: string[]) => {
    const { code, err } = await runCli('probe', ...args)
    expect(code).toBe(2)
    return err
  }
  expect(await refused('--sweep')).toContain('--sweep needs a job')
  expect(await refused('lens.job.json', '--sweep', '--x', '3')).toContain('needs --x and --y')
  expect(await refused('lens.job.json', '--sweep', '--x', '3', '--y', '999')).toContain('beside the panel')
  expect(
    await refused('lens.job.json', '--sweep', '--x', '3', '--y', '3', '--lamp', '90,60,400,4'),
  ).toContain('--lamp goes without it')
})
