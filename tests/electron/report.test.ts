import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { build } from '../../scripts/build.mjs'
import { runCli } from '../support/run-cli.ts'

beforeAll(() => build('workers'))

test('report writes one page about the demo carton, and a job that is not there is named', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-report-'))
  try {
    const page = join(folder, 'page.html')
    const ran = await runCli('report', 'demo-assets/demo.job.json', '--out', page)
    expect(ran).toMatchObject({ code: 0, out: '' })
    const html = readFileSync(page, 'utf8')
    expect(html).toContain('demo.job.json')
    expect(html).toContain('opacity of one hit')
    expect(html).not.toContain('<script')
    const missing = await runCli('report', join(folder, 'none.job.json'))
    expect(missing.code).toBe(1)
    expect(missing.err).toContain('none.job.json')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
