import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { readArt } from '../../core/art/read.ts'
import { codesCheck } from '../../core/checks/codes/check.ts'
import { parseJob } from '../../core/job/parse.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { codeReader } from '../../electron/code-reader.ts'
import { openFile } from '../../electron/file-source.ts'

const jobFile = fileURLToPath(new URL('../../demo-assets/demo.job.json', import.meta.url))

test("the demo's code is found by the reader that ships, and nothing of it fails", async () => {
  const job = parseJob(readFileSync(jobFile, 'utf8'), 'demo.job.json')
  const source = await openFile(join(dirname(jobFile), job.art!.path))
  try {
    const checks = new CheckWork(async () => [codesCheck(await codeReader())])
    const work = { job, assets: [], profile: null }
    const { list } = await checks.check(await readArt(source, {}), work)
    const own = list.findings.filter(one => one.check === 'codes')
    expect(new Set(own.map(one => one.where))).toEqual(new Set(['EAN-13 2012345600126']))
    expect(own.map(one => one.code)).toContain('code-grade')
    expect(own.filter(one => one.severity === 'error')).toEqual([])
  } finally {
    await source.close()
  }
})
