import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { sha256Hex } from '../../core/base/sha256.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import type { MadeProof } from '../../core/host/proofs.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { openPage } from '../../core/proof/open-page.ts'
import { main } from '../../electron/cli.ts'
import { createHost } from '../../electron/host.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { build, workParts } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()
const at = '2026-03-04T09:30:00Z'
const proof = (...args: string[]) => runCli('proof', ...args)
const read = (name: string) => readFileSync(name, 'utf8')

beforeAll(async () => {
  for (const part of [...workParts, 'cli']) await build(part)
  folder = mkdtempSync(join(tmpdir(), 'rakelight-proof-'))
  process.chdir(folder)
  writeFileSync('lens.psd', lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  // Four frames of a movie are enough to see that it is there.
  const job = parseJob(read('lens.job.json'), 'lens.job.json')
  const paths = job.paths.slice(0, 1).map(path => {
    const last = path.keys.at(-1)!.timeS
    return { ...path, keys: path.keys.map(key => ({ ...key, timeS: (0.3 * key.timeS) / last })) }
  })
  writeFileSync('lens.job.json', jobText({ ...job, paths }))
}, 300_000)

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

describe('proof', () => {
  test('writes one file with the job’s own map, and lists its version', async () => {
    const { code, out, err } = await proof('lens.job.json', '-o', 'lens.proof.html', '--made', at, '--json')
    expect(code).toBe(0)
    const page = read('lens.proof.html')
    const told = JSON.parse(out)
    expect(told).toMatchObject({
      madeAt: at,
      detail: { halvings: 0 },
      listed: true,
      mail: null,
      file: { name: 'lens.proof.html', sha256: sha256Hex(page), bytes: Buffer.byteLength(page) },
    })
    expect(err).toMatch(
      /^Wrote lens\.proof\.html, \d\.\d MB: version [0-9a-f]{8} of lens\.job\.json\. As fine as the job: .*Checks: \d+ error/,
    )
    const { manifest, map } = openPage(page, 'lens.proof.html')
    expect(manifest.of).toMatchObject({
      id: told.id,
      jobName: 'lens.job.json',
      sources: [{ kind: 'art', name: 'lens.psd' }],
    })
    expect(manifest.findings.counts).toEqual(told.findings)
    const { map: whole } = await buildFromJob(await openJob('lens.job.json', false))
    expect([...map().planes]).toEqual([...whole.planes])
    expect(JSON.parse(read('lens.versions.json')).versions).toMatchObject([
      { version: { id: told.id }, files: [told.file] },
    ])
  }, 300_000)

  test('a zip for mail has the same page, a movie, a sheet and words; the same job and time make the same bytes', async () => {
    const { code, out } = await proof(
      'lens.job.json',
      '-o',
      'again.proof.html',
      '--made',
      at,
      '--mail',
      'lens.zip',
      '--json',
    )
    expect(code).toBe(0)
    expect(read('again.proof.html') === read('lens.proof.html')).toBe(true)
    const told = JSON.parse(out)
    expect(told.mail).toEqual([
      'How to open.txt',
      'again.proof.html',
      expect.stringMatching(/^lens\.(mp4|webm|gif)$/),
      'lens.pdf',
    ])
    const mail = unzipSync(readFileSync('lens.zip'))
    expect(Object.keys(mail)).toEqual(told.mail)
    expect(Buffer.from(mail['again.proof.html']!).equals(readFileSync('again.proof.html'))).toBe(true)
    expect(new TextDecoder().decode(mail['lens.pdf']!.slice(0, 5))).toBe('%PDF-')
    expect(mail[told.mail[2]]!.length).toBeGreaterThan(500)
    const words = new TextDecoder().decode(mail['How to open.txt'])
    expect(words).toContain(`version ${told.id.slice(0, 8)}, made 2026-03-04 09:30 UTC`)
    expect(words).toContain('Open again.proof.html in a current browser')
  }, 300_000)

  // A limit on a file's size stops the write in its middle, as a full disk does.
  test.skipIf(process.platform === 'win32')('a write that fails in its middle leaves nothing behind', () => {
    mkdirSync('empty')
    const launcher = fileURLToPath(new URL('../../scripts/rakelight.mjs', import.meta.url))
    const limited = `trap '' XFSZ; ulimit -f 64; exec "$@"`
    const { status, stderr } = spawnSync(
      'bash',
      [
        '-c',
        limited,
        'bash',
        process.execPath,
        launcher,
        'proof',
        'lens.job.json',
        '-o',
        'empty/full.html',
        '--unchecked',
      ],
      { encoding: 'utf8' },
    )
    expect([status, stderr]).toEqual([1, expect.stringContaining('full.html: writing to empty/full.html')])
    expect(readdirSync('empty')).toEqual([])
  })

  test('stopped in the middle it leaves nothing, and what was there stays', async () => {
    writeFileSync('kept.html', 'older')
    let err = ''
    const write = (text: string) => {
      err += text
      // Half of the work is done: the map is there, and the page is being written.
      if (/ [5-9]\d %/.test(text)) process.emit('SIGINT')
    }
    const args = ['proof', 'lens.job.json', '-o', 'kept.html', '--unchecked']
    const code = await main(args, {
      out: { write: () => undefined },
      err: { isTTY: true, columns: 80, write },
    })
    expect([code, err]).toEqual([130, expect.stringContaining('rakelight: stopped')])
    expect(read('kept.html')).toBe('older')
    expect(readdirSync('.').filter(name => name.includes('kept'))).toEqual(['kept.html'])
  }, 300_000)

  test.each([
    [['none.job.json', '-o', 'x.html'], 1, 'none.job.json'],
    [['lens.job.json', '-o', 'lens.job.json'], 1, 'is a file that the proof is made of'],
    [['lens.job.json', '-o', 'lens.psd'], 1, 'is a file that the proof is made of'],
    [['lens.job.json', '-o', 'nowhere/x.html'], 1, 'the folder is not there'],
    [['lens.job.json', '-o', 'lens.psd/x.html'], 1, 'Choose another place'],
    [['lens.job.json', '-o', '.'], 1, 'is a folder'],
    [['lens.job.json', '-o', 'x.html', '--budget', '0.1'], 2, 'expected 0.5 to 400 megabytes, got 0.1'],
    [['lens.job.json', '-o', 'x.html', '--made', 'today'], 2, 'expected a time in UTC'],
    [['lens.job.json'], 2, '-o FILE is missing'],
  ])('%j is refused', async (args, code, words) => {
    const ran = await proof(...args)
    expect([ran.code, ran.err]).toEqual([code, expect.stringContaining(words)])
    expect(existsSync('x.html')).toBe(false)
  })

  // As root every folder may be written.
  test.skipIf(process.getuid?.() === 0)(
    'a folder that may not be written is said before any work',
    async () => {
      mkdirSync('locked', { mode: 0o500 })
      const { code, err } = await proof('lens.job.json', '-o', 'locked/x.html')
      expect([code, err]).toEqual([1, expect.stringContaining('you may not write there')])
    },
  )
})

test('the window’s request makes a proof of an open job, which is listed once it went out', async () => {
  const host = createHost({
    kind: 'desktop',
    version: '1.2.3',
    dialogs: null,
    dataFolder: join(folder, 'data'),
    startPath: join(folder, 'lens.job.json'),
  })
  try {
    const ask = async <T>(name: string, input: unknown): Promise<T> => {
      const reply = await dispatch(host.handlers, name, input)
      if (!reply.ok) throw new Error(`${reply.code}: ${reply.message}`)
      return reply.value as T
    }
    const { start } = await ask<{ start: { id: string } }>('about', {})
    const opened = await ask<{ file: { id: string }; job: object; art: { file: { id: string } } }>(
      'openJob',
      { fileId: start.id },
    )
    const wish = {
      fileId: opened.art.file.id,
      jobFileId: opened.file.id,
      jobName: 'x',
      taskId: 't',
      job: opened.job,
      checked: false,
    }
    const made = await ask<MadeProof & { name: string }>('makeProof', wish)
    expect(made).toMatchObject({ name: 'lens.proof.html', counts: null, detail: { halvings: 0 } })
    const { manifest } = openPage(new TextDecoder().decode(made.bytes), made.name)
    expect(manifest.of).toMatchObject({ id: made.id, jobName: 'lens.job.json' })
    const listed = () =>
      JSON.parse(read('lens.versions.json')).versions as { version: { id: string }; files: unknown }[]
    expect(listed().some(one => one.version.id === made.id)).toBe(false)
    const out = { jobFileId: opened.file.id, id: made.id, name: 'lens.proof.html' }
    await ask('proofOut', out)
    expect(listed().at(-1)).toMatchObject({
      version: { id: made.id },
      files: [{ name: 'lens.proof.html', sha256: sha256Hex(made.bytes), bytes: made.bytes.length }],
    })
    await expect(ask('proofOut', { ...out, id: '0'.repeat(64) })).rejects.toThrow('was not made here')
    const stopped = ask('makeProof', { ...wish, taskId: 'u' })
    await ask('cancel', { taskId: 'u' })
    await expect(stopped).rejects.toThrow('cancelled')
  } finally {
    await host.close()
  }
}, 300_000)
