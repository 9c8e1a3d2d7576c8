import { createHash } from 'node:crypto'
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import type { Job } from '../../core/job/job.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const frames = (...args: string[]) => runCli('frames', ...args)
const here = process.cwd()
const sha256 = (name: string) =>
  createHash('sha256')
    .update(readFileSync(join(folder, name)))
    .digest('hex')
const read = (name: string) => decodePng(readFileSync(join(folder, name)))
const readJob = () => parseJob(readFileSync(join(folder, 'lens.job.json'), 'utf8'), 'lens.job.json')
const writeJob = (name: string, job: Job) => writeFileSync(join(folder, name), jobText(job))

/** Red, green, blue of one pixel. */
function pixel(name: string, x: number, y: number): readonly number[] {
  const { width, data } = read(name)
  return [...data.subarray((y * width + x) * 3, (y * width + x) * 3 + 3)]
}

beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-frames-'))
  process.chdir(folder)
  writeFileSync(join(folder, 'lens.psd'), lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

/** Only lamp and panel move. */
const alone = { others: [], eye: null, ease: 'flow' } as const

describe('frames', () => {
  test('writes numbered pictures of the asked size into a folder that it makes', async () => {
    const { code, out, err } = await frames(
      'lens.job.json',
      '--out',
      'a/b',
      '--frames',
      '3',
      '--size',
      '60x40',
    )
    expect([code, out]).toEqual([0, ''])
    expect(readdirSync(join(folder, 'a/b')).toSorted()).toEqual([
      'frame-0001.png',
      'frame-0002.png',
      'frame-0003.png',
    ])
    expect(read('a/b/frame-0001.png')).toMatchObject({ width: 60, height: 40, channels: 3 })
    expect(err).toMatch(/Frame 1 of 3, 33 %, .* left/)
    expect(err).toContain('Wrote 3 frames of "Hand tilt" to a/b.')
  })

  test('gives the same bytes every time, and other bytes as the light moves', async () => {
    const size = ['--frames', '4', '--size', '90x70'] as const
    await frames('lens.job.json', '--out', 'one', ...size)
    await frames('lens.job.json', '--out', 'two', ...size)
    const names = readdirSync(join(folder, 'one'))
    expect(names).toHaveLength(4)
    for (const name of names) expect(sha256(`one/${name}`)).toBe(sha256(`two/${name}`))
    expect(new Set(names.map(name => sha256(`one/${name}`))).size).toBe(4)
  })

  test('a frame stands where the job’s own light stands', async () => {
    // Art 10.16 × 6.77 mm in a 120 × 80 picture. Lower left rings of 1000 nm: lit 30° from straight-on from above they
    // show 500 nm where they lie across the light, under their middle (grating equation). Right cyan over foil, and
    // white under it in the upper half.
    const job = readJob()
    const still = {
      name: 'Still',
      loop: false,
      keys: [{ timeS: 0, lamp: job.light.lamps[0].pose, pose: job.view.pose, ...alone }],
    }
    writeJob('still.job.json', { ...job, paths: [...job.paths, still] })
    await frames('still.job.json', '--out', 'still', '--frames', '1', '--size', '120x80', '--path', 'Still')
    const [r, g, b] = pixel('still/frame-0001.png', 33, 62) as [number, number, number]
    expect(g).toBeGreaterThan(150)
    expect(g).toBeGreaterThan(2 * r)
    expect(g).toBeGreaterThan(b)
    const [ur, ug, ub] = pixel('still/frame-0001.png', 90, 20) as [number, number, number]
    expect(ub).toBeGreaterThan(ur)
    expect(ug).toBeGreaterThan(ur)
    const [sr, sg, sb] = pixel('still/frame-0001.png', 1, 1)
    expect(sr === sg && sg === sb).toBe(true)
  })

  test('one picture says its colour space', async () => {
    const job = readJob()
    writeJob('wide.job.json', { ...job, view: { ...job.view, gamut: 'display-p3' } })
    await frames('wide.job.json', '--out', 'wide', '--frames', '1', '--size', '12x8')
    await frames('lens.job.json', '--out', 'narrow', '--frames', '1', '--size', '12x8')
    expect(readFileSync(join(folder, 'wide/frame-0001.png')).includes('cICP')).toBe(true)
    expect(readFileSync(join(folder, 'narrow/frame-0001.png')).includes('sRGB')).toBe(true)
  })

  test('a path that is not there is refused with those that are', async () => {
    const { code, err } = await frames(
      ...['lens.job.json', '--out', 'x', '--frames', '1', '--size', '8x8', '--path', 'Nowhere'],
    )
    expect(code).toBe(1)
    expect(err).toContain('there is no lamp path "Nowhere". Choose one of "Hand tilt", "Lamp across"')
  })

  test('a lamp beside the panel is fine, one inside it is refused before any work', async () => {
    const job = readJob()
    const lamp = job.light.lamps[0].pose
    const pose = job.view.pose
    const low = { ...lamp, elevationDeg: 1, distanceMm: 30 }
    const keys = [{ timeS: 0, lamp: { ...low, azimuthDeg: 0, diameterMm: 2 }, pose, ...alone }]
    const path = { name: 'Low', loop: false, keys }
    writeJob('low.job.json', { ...job, paths: [path] })
    const fine = await frames('low.job.json', '--out', 'low', '--frames', '2', '--size', '8x8')
    expect(fine.code).toBe(0)
    writeFileSync(
      join(folder, 'in.job.json'),
      JSON.stringify({
        ...job,
        paths: [{ ...path, keys: [{ ...keys[0], lamp: { ...low, distanceMm: 4 } }] }],
      }),
    )
    const { code, err } = await frames('in.job.json', '--out', 'in', '--frames', '2', '--size', '8x8')
    expect(code).toBe(1)
    expect(err).toContain('path "Low", key 1: the lamp')
  })

  test('a file in place of the folder is said', async () => {
    writeFileSync(join(folder, 'taken'), '')
    const { code, err } = await frames('lens.job.json', '--out', 'taken', '--frames', '1', '--size', '8x8')
    expect(code).toBe(1)
    expect(err).toContain('a file stands where a folder should be')
  })

  // Linux: /proc holds no folders of ours, not even root's; Node's recursive mkdir never returns there.
  test.skipIf(process.platform !== 'linux')('a place where no folder can be made is said', async () => {
    const { code, err } = await frames(
      'lens.job.json',
      '--out',
      '/proc/a/b',
      '--frames',
      '1',
      '--size',
      '8x8',
    )
    expect(code).toBe(1)
    expect(err).toContain('cannot be made here')
  })

  test.skipIf(process.getuid?.() === 0)('a folder that may not be written is said', async () => {
    mkdirSync(join(folder, 'closed'))
    chmodSync(join(folder, 'closed'), 0o555)
    const { code, err } = await frames('lens.job.json', '--out', 'closed', '--frames', '1', '--size', '8x8')
    expect(code).toBe(1)
    expect(err).toContain('you may not write there')
  })
})
