import { createHash } from 'node:crypto'
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import { setEffect } from '../../core/job/edit.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { inRegister } from '../../core/job/register.ts'
import { addVariant, chooseVariant, keptInVariant } from '../../core/job/variants.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt, lensSize } from '../support/lens-art.ts'
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
  shorten('lens.job.json')
})

afterAll(() => {
  process.chdir(here)
  rmSync(folder, { recursive: true, force: true })
})

/** A path of one second, so that its flashes are soon counted. */
function shorten(name: string): void {
  const job = parseJob(readFileSync(join(folder, name), 'utf8'), name)
  const short = job.paths.map(path => {
    const length = path.keys.at(-1)!.timeS || 1
    return { ...path, keys: path.keys.map(key => ({ ...key, timeS: key.timeS / length })) }
  })
  writeJob(name, { ...job, paths: short })
}

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
    expect(err).toMatch(/Frame 1 of 3, 33 %, (almost done|.* left)/)
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

  test('plates out of register lie in the picture, and in what is read of it, as in art that was drawn so', async () => {
    const plates = { holography: 6, ink: 10, white: 8 }
    const pixelMm = 25.4 / lensSize.ppi
    writeFileSync(join(folder, 'slipped.psd'), lensArt('Ink', plates))
    await runCli('job', 'slipped.psd', '-o', 'slipped.job.json')
    shorten('slipped.job.json')
    writeJob('plates.job.json', {
      ...readJob(),
      register: {
        holography: { ...inRegister, xMm: plates.holography * pixelMm },
        colour: { ...inRegister, xMm: plates.ink * pixelMm },
        white: { ...inRegister, yMm: plates.white * pixelMm },
        // Nothing cuts a flat panel.
        die: { ...inRegister, xMm: 2 },
      },
    })
    const one = ['--frames', '1', '--size', '120x80'] as const
    const { err } = await frames('plates.job.json', '--out', 'plates', ...one)
    await frames('slipped.job.json', '--out', 'slipped', ...one)
    await frames('lens.job.json', '--out', 'designed', ...one)
    expect(sha256('plates/frame-0001.png')).toBe(sha256('slipped/frame-0001.png'))
    expect(sha256('plates/frame-0001.png')).not.toBe(sha256('designed/frame-0001.png'))
    expect(err).toContain('Note: register: holography, white, inks are shown out of register')
    // Between the ink's two edges: board without ink in the one, ink in the other.
    const read = async (job: string) => (await runCli('probe', job, '--x', '5.5', '--y', '1', '--json')).out
    expect(await read('plates.job.json')).toBe(await read('slipped.job.json'))
    expect(await read('plates.job.json')).not.toBe(await read('lens.job.json'))
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

  // One grating over a card that is carried to the lamp's mirror and away six times a second: WCAG 2.2, 2.3.1 allows 3.
  const rocked = (hz: number, seconds: number): LampPath => {
    const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 120 }
    const key = (timeS: number, tiltForwardDeg: number) => ({
      timeS,
      lamp,
      pose: { tiltForwardDeg, tiltSideDeg: 0, turnDeg: 0 },
      ...alone,
    })
    return {
      name: 'Rocked',
      loop: false,
      keys: Array.from({ length: 2 * hz * seconds + 1 }, (_, i) => key(i / (2 * hz), i % 2 === 0 ? 8 : 15)),
    }
  }
  const quick = ['--frames', '7', '--size', '8x8', '--path', 'Rocked', '--json'] as const
  interface Written {
    readonly lengthS: number
    readonly dampedFromS: number | null
    readonly files: readonly string[]
    readonly flashes: readonly {
      readonly fromS: number
      readonly toS: number
      readonly kind: string
      readonly flashes: number
      readonly firstFrame: number | null
      readonly lastFrame: number | null
    }[]
  }

  test('a path that flashes is written with a warning that names seconds and frames; damped it is slower and passes', async () => {
    writeJob('rocked.job.json', { ...blankJob(100, 100), paths: [rocked(6, 2)] })
    const warned = await frames('rocked.job.json', '--out', 'rocked', ...quick)
    expect(warned.code).toBe(0)
    const found = JSON.parse(warned.out) as Written
    const [flash] = found.flashes
    expect(flash).toMatchObject({ kind: 'general' })
    expect(flash!.flashes).toBeGreaterThan(3)
    // Seven frames of 2 s: a third of a second apart.
    expect(flash!.firstFrame).toBe(Math.ceil(3 * flash!.fromS) + 1)
    expect(warned.err).toMatch(
      /Warning: at its own pace "Rocked" flashes more than the three times a second of WCAG 2\.3\.1.*\n {2}0\.\d–\d\.\d s, frames \d–\d: [\d.]+ flashes a second in brightness/,
    )
    expect(found.files).toEqual(readdirSync(join(folder, 'rocked')).toSorted())
    const calm = await frames('rocked.job.json', '--out', 'calm', ...quick, '--damp')
    const slower = JSON.parse(calm.out) as Written
    expect(slower).toMatchObject({ flashes: [], dampedFromS: 2 })
    expect(slower.lengthS).toBeGreaterThan(2)
    expect(calm.err).toContain('"Rocked" was slowed where it flashes, from 2.0 to')
    expect(calm.err).not.toContain('Warning')
  }, 120_000)

  test('a calm path says nothing of flashes, and --damp leaves it as it is', async () => {
    writeJob('calm.job.json', { ...blankJob(100, 100), paths: [rocked(1, 2)] })
    const { out, err } = await frames('calm.job.json', '--out', 'same', ...quick, '--damp')
    expect(JSON.parse(out)).toMatchObject({ flashes: [], dampedFromS: null, lengthS: 2 })
    expect(err).not.toContain('flashes')
  }, 60_000)

  test('--design shows one design by its name; a wrong name is answered with those there are', async () => {
    const bare = { kind: 'plain', parameters: { sharePercent: 0 } } as const
    const job = addVariant('Print-led')(readJob())
    const { target } = job.found.find(one => one.role === 'holography')!
    const print = keptInVariant(job, { ...job, effects: [{ target, effect: bare }] })
    writeJob('two.job.json', chooseVariant(null)(print))
    const one = ['--frames', '1', '--size', '120x80'] as const
    await frames('two.job.json', '--out', 'base', ...one)
    await frames('two.job.json', '--out', 'named', ...one, '--design', 'Base')
    await frames('two.job.json', '--out', 'led', ...one, '--design', 'Print-led')
    expect(sha256('named/frame-0001.png')).toBe(sha256('base/frame-0001.png'))
    expect(sha256('led/frame-0001.png')).not.toBe(sha256('base/frame-0001.png'))
    const { code, err } = await frames('two.job.json', '--out', 'x', ...one, '--design', 'Loud')
    expect(code).toBe(1)
    expect(err).toContain('there is no design "Loud". Choose one of "Base", "Print-led"')
  })

  test('--sheet has holography out of register lie elsewhere; registered it says that all sheets are alike', async () => {
    const register = {
      mode: 'continuous',
      repeatMm: 30,
      seamMm: 3,
      directionDeg: 90,
      sheet: 0,
    } as const
    const target = { kind: 'layer', id: 'blank-holography' } as const
    const still = { ...rocked(1, 1), keys: rocked(1, 1).keys.slice(0, 1) }
    const job = { ...blankJob(100, 100), paths: [still] }
    writeJob('web.job.json', setEffect(target, { kind: 'plain', parameters: {}, register })(job))
    const one = ['--frames', '1', '--size', '60x60'] as const
    await frames('web.job.json', '--out', 's0', ...one)
    await frames('web.job.json', '--out', 's0b', ...one, '--sheet', '0')
    await frames('web.job.json', '--out', 's1', ...one, '--sheet', '1')
    await frames('web.job.json', '--out', 's1b', ...one, '--sheet', '1')
    const name = 'frame-0001.png'
    expect(sha256(`s0b/${name}`)).toBe(sha256(`s0/${name}`))
    expect(sha256(`s1b/${name}`)).toBe(sha256(`s1/${name}`))
    expect(sha256(`s1/${name}`)).not.toBe(sha256(`s0/${name}`))
    writeJob('kept.job.json', job)
    const { err } = await frames('kept.job.json', '--out', 's2', ...one, '--sheet', '4')
    expect(err).toContain('no holography of this design lies out of register; all sheets are alike')
    const wrong = await frames('web.job.json', '--out', 's3', ...one, '--sheet', '1.5')
    expect(wrong).toMatchObject({ code: 2 })
    expect(wrong.err).toContain('--sheet: expected a whole number from 0 to 1000000, got "1.5"')
  })
})
