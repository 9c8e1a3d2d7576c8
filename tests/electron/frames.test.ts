import { createHash } from 'node:crypto'
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
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

/** The pictures of a folder; beside them lies the ledger of the run. */
const pictures = (name: string) =>
  readdirSync(join(folder, name))
    .filter(file => file.endsWith('.png'))
    .toSorted()

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
    expect(pictures('a/b')).toEqual(['frame-0001.png', 'frame-0002.png', 'frame-0003.png'])
    expect(read('a/b/frame-0001.png')).toMatchObject({ width: 60, height: 40, channels: 3 })
    expect(err).toMatch(/Frame 1 of 3, 33 %, (almost done|.* left)/)
    expect(err).toContain('Wrote 3 frames of "Hand tilt" to a/b.')
  })

  test('gives the same bytes every time, and other bytes as the light moves', async () => {
    const size = ['--frames', '4', '--size', '90x70'] as const
    await frames('lens.job.json', '--out', 'one', ...size)
    await frames('lens.job.json', '--out', 'two', ...size)
    const names = pictures('one')
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
    expect(found.files).toEqual(pictures('rocked'))
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
  })

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

  describe('in parts, and again', () => {
    const whole = ['--frames', '6', '--size', '60x40'] as const
    const part = (out: string, ...args: string[]) => frames('lens.job.json', '--out', out, ...whole, ...args)
    const hashes = (name: string) => pictures(name).map(file => `${file} ${sha256(`${name}/${file}`)}`)

    beforeAll(async () => {
      await part('whole')
    })

    test('three parts on their own, two of them at a time, are the whole byte for byte', async () => {
      await Promise.all([part('parts', '--only', '1-2'), part('parts', '--only', '5-6')])
      expect(pictures('parts')).toHaveLength(4)
      const { out } = await part('parts', '--only', '3-4', '--json')
      expect(JSON.parse(out)).toMatchObject({
        frames: 6,
        firstFrame: 3,
        lastFrame: 4,
        files: ['frame-0003.png', 'frame-0004.png'],
        made: 2,
        kept: 0,
      })
      expect(hashes('parts')).toEqual(hashes('whole'))
      // The ledger of the parts counts for the whole: nothing is left to make.
      const again = await part('parts')
      expect(again.err).toContain('All 6 frames of "Hand tilt" are in parts already.')
    })

    test('a broken sequence goes on: what is whole is kept, what is missing, cut off or of another job is made', async () => {
      const before = hashes('whole')
      const stood = statSync(join(folder, 'whole/frame-0001.png')).mtimeMs
      rmSync(join(folder, 'whole/frame-0002.png'))
      truncateSync(join(folder, 'whole/frame-0004.png'), 200)
      // The run that was killed while it noted this frame left half a line.
      const ledger = readFileSync(join(folder, 'whole', 'frames.ledger'), 'utf8')
      writeFileSync(join(folder, 'whole', 'frames.ledger'), ledger.slice(0, -20))
      const { out, err } = await part('whole', '--json')
      expect(JSON.parse(out)).toMatchObject({ made: 3, kept: 3 })
      expect(err).toContain('3 frames are there already and kept.')
      expect(hashes('whole')).toEqual(before)
      expect(statSync(join(folder, 'whole/frame-0001.png')).mtimeMs).toBe(stood)
      expect(JSON.parse((await part('whole', '--json')).out)).toMatchObject({ made: 0, kept: 6 })
      expect(JSON.parse((await part('whole', '--json', '--anew')).out)).toMatchObject({ made: 6, kept: 0 })
      expect(hashes('whole')).toEqual(before)
      const job = readJob()
      writeJob('brighter.job.json', { ...job, view: { ...job.view, exposureStops: 1 } })
      const other = await frames('brighter.job.json', '--out', 'whole', ...whole, '--json')
      expect(JSON.parse(other.out)).toMatchObject({ made: 6, kept: 0 })
      expect(hashes('whole')).not.toEqual(before)
    })

    test('stopped in the middle it leaves only whole frames, and says how to go on', async () => {
      const stop = setInterval(() => {
        if (existsSync(join(folder, 'stopped')) && pictures('stopped').length > 1) process.emit('SIGINT')
      }, 2)
      const large = ['--frames', '40', '--size', '160x120'] as const
      const { code, err } = await frames('lens.job.json', '--out', 'stopped', ...large)
      clearInterval(stop)
      expect(code).toBe(130)
      expect(err).toMatch(/\d+ of 40 frames are written; the same command goes on from there\./)
      for (const name of pictures('stopped'))
        expect(read(`stopped/${name}`)).toMatchObject({ width: 160, height: 120 })
      expect(readdirSync(join(folder, 'stopped')).filter(name => name.startsWith('.'))).toEqual([])
    })

    test.each([
      [['--only', '0-3'], '--only: expected A-B with 1 ≤ A ≤ B ≤ 6, such as 1-6, got "0-3"'],
      [['--only', '4-7'], 'B ≤ 6'],
      [['--only', '4-2'], 'A ≤ B'],
      [['--only', 'all'], 'got "all"'],
      [['--depth', '12'], '--depth: expected 8 or 16, got "12"'],
    ])('%j is refused', async (args, said) => {
      const { code, err } = await part('refused', ...args)
      expect(code).toBe(2)
      expect(err).toContain(said)
      expect(existsSync(join(folder, 'refused'))).toBe(false)
    })

    test.each(['0', '100000', '2.5'])('--frames %s is refused with the range', async count => {
      const { code, err } = await frames(
        ...['lens.job.json', '--out', 'refused', '--frames', count, '--size', '8x8'],
      )
      expect(code).toBe(2)
      expect(err).toContain(`--frames: expected a whole number from 1 to 99999, got "${count}"`)
    })
  })

  test('16 bits are finer than 8 and say the same', async () => {
    const one = ['--frames', '1', '--size', '60x40'] as const
    await frames('lens.job.json', '--out', 'deep', ...one, '--depth', '16')
    await frames('lens.job.json', '--out', 'shallow', ...one)
    const [deep, shallow] = [read('deep/frame-0001.png').data, read('shallow/frame-0001.png').data]
    expect(deep).toBeInstanceOf(Uint16Array)
    expect(new Set(deep).size).toBeGreaterThan(2 * new Set(shallow).size)
    // The nearest of 255 steps to the nearest of 65535: half a step, and what the finer one is off.
    for (let i = 0; i < deep.length; i++)
      expect(Math.abs(deep[i]! / 257 - shallow[i]!)).toBeLessThanOrEqual(0.5 + 0.5 / 257)
  })

  test('on a clear background laid over a colour it is the picture on that colour', async () => {
    const one = ['--frames', '1', '--size', '90x70', '--depth', '16'] as const
    await frames('lens.job.json', '--out', 'clear', ...one, '--background', 'transparent', '--grid', '4')
    await frames('lens.job.json', '--out', 'pink', ...one, '--background', '#ff80c0', '--grid', '4')
    const [clear, pink] = [read('clear/frame-0001.png'), read('pink/frame-0001.png').data]
    expect(clear.channels).toBe(4)
    const alphas = new Set<number>()
    for (let i = 0; i < 90 * 70; i++) {
      const alpha = clear.data[4 * i + 3]! / 65535
      alphas.add(Math.round(16 * alpha))
      for (const [c, around] of [0xff, 0x80, 0xc0].entries()) {
        const over = alpha * clear.data[4 * i + c]! + (1 - alpha) * 257 * around
        expect(Math.abs(over - pink[3 * i + c]!)).toBeLessThanOrEqual(1.5)
      }
      if (alpha === 0) expect(clear.data[4 * i]).toBe(0)
    }
    // Nothing, all, and edges that a part of the sixteen rays met.
    expect(alphas.has(0) && alphas.has(16)).toBe(true)
    expect(alphas.size).toBeGreaterThan(2)
  })
})
