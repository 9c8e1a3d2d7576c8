import { spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build, workParts } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

/** Everything that goes out, by its command; FILE is where it goes. Each is larger than a kilobyte. */
const exports: readonly (readonly [name: string, file: string, ...args: string[]])[] = [
  ['proof', 'out.html', 'proof', 'lens.job.json', '-o', 'FILE', '--unchecked'],
  ['movie, GIF', 'out.gif', 'movie', 'lens.job.json', '-o', 'FILE', '--size', '320x240', '--frames', '8'],
  [
    'movie, animated PNG',
    'out.png',
    'movie',
    'lens.job.json',
    '-o',
    'FILE',
    '--size',
    '320x240',
    '--frames',
    '8',
  ],
  ['still', 'out.png', 'stills', 'lens.job.json', '-o', 'FILE', '--what', 'contact', '--cell', '160x160'],
  [
    'still, OpenEXR',
    'out.exr',
    'stills',
    'lens.job.json',
    '-o',
    'FILE',
    '--what',
    'contact',
    '--cell',
    '160x160',
    '--format',
    'exr',
  ],
  ['plates', 'out.pdf', 'plates', 'lens.job.json', '-o', 'FILE'],
  [
    'comparison',
    'out.png',
    'compare',
    'lens.job.json',
    'other.job.json',
    '--out',
    'FILE',
    '--size',
    '320x240',
  ],
  [
    'record of sign-off',
    'out.signoff.json',
    'approve',
    'lens.job.json',
    '--decision',
    'OK',
    '--as',
    'Ana',
    '--role',
    'must approve',
    '-o',
    'FILE',
  ],
  ['report', 'out.html', 'report', 'lens.job.json', '--out', 'FILE'],
]

const launcher = fileURLToPath(new URL('../../scripts/rakelight.mjs', import.meta.url))
const here = process.cwd()
let folder: string

beforeAll(async () => {
  for (const part of [...workParts, 'cli']) await build(part)
  folder = mkdtempSync(join(tmpdir(), 'rakelight-whole-'))
  process.chdir(folder)
  writeFileSync('lens.psd', lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  const job = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
  writeFileSync('other.job.json', jobText({ ...job, board: { ...job.board, wavinessMrad: 9 } }))
}, 300_000)

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

const inPlace = (args: readonly string[], file: string) => args.map(one => (one === 'FILE' ? file : one))

describe.each(exports)('%s', (_, file, ...args) => {
  // A limit on a file's size stops the write in its middle, as a full disk does.
  test.skipIf(process.platform === 'win32')('leaves nothing behind when the disk is full', () => {
    const place = mkdtempSync(join(folder, 'full-'))
    const command = [process.execPath, launcher, ...inPlace(args, join(place, file))]
    const { status, stderr } = spawnSync(
      'bash',
      ['-c', `trap '' XFSZ; ulimit -f 1; exec "$@"`, 'bash', ...command],
      { encoding: 'utf8' },
    )
    expect([status, stderr]).toEqual([1, expect.stringContaining('larger than a file may be there')])
    expect(readdirSync(place)).toEqual([])
  })

  test.skipIf(process.platform === 'win32')('leaves nothing behind when it is stopped half way', async () => {
    const place = mkdtempSync(join(folder, 'stopped-'))
    const child = spawn(process.execPath, [launcher, ...inPlace(args, join(place, file))], {
      stdio: 'ignore',
    })
    const ended = new Promise<number | null>(resolve => child.once('close', code => resolve(code)))
    await new Promise(resolve => setTimeout(resolve, 900))
    child.kill('SIGINT')
    const code = await ended
    expect([0, 130, null]).toContain(code)
    // Quick ones may have ended before, or been stopped once the file had its name; then they are whole.
    const there = readdirSync(place)
    if (code === 0 || there.length > 0) {
      expect(there).toEqual([file])
      const again = mkdtempSync(join(folder, 'whole-'))
      expect((await runCli(...inPlace(args, join(again, file)))).code).toBe(0)
      const [size, whole] = [place, again].map(at => statSync(join(at, file)).size)
      // Times are written into some.
      expect(Math.abs(size! / whole! - 1)).toBeLessThan(0.01)
    }
  })

  test('says so where it cannot be written', async () => {
    const { code, err } = await runCli(...inPlace(args, join(folder, 'lens.psd', file)))
    expect([code, err]).toEqual([
      1,
      expect.stringMatching(/a file stands where a folder should be|the folder is not there/),
    ])
  })
})
