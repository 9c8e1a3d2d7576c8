import { createHash } from 'node:crypto'
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { decodeApng } from 'fast-png'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { findEncoder, VideoEncoder } from '../../electron/ffmpeg.ts'
import { build } from '../../scripts/build.mjs'
import { decodeMovie, ffmpegIsHere, probeMovie } from '../support/decode-movie.ts'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'

let folder: string
const here = process.cwd()
const path = process.env.PATH
const size = { width: 96, height: 64 }
/** At 96 × 64 and ten frames a second unless it is told another. */
const movie = (out: string, ...args: string[]) => {
  const usual = [
    ['--size', '96x64'],
    ['--rate', '10'],
  ].filter(([flag]) => !args.includes(flag!))
  return runCli('movie', 'round.job.json', '-o', out, ...usual.flat(), ...args)
}

/** The lamp swings by ten degrees and back in 0.8 s: a closed loop of eight frames at ten a second. */
function round(job: Job): LampPath {
  const lamp = job.light.lamps[0].pose
  const key = (timeS: number, azimuthDeg: number) => ({
    timeS,
    lamp: { ...lamp, azimuthDeg },
    pose: job.view.pose,
    others: [],
    eye: null,
    ease: 'flow' as const,
  })
  return { name: 'Round', loop: true, keys: [key(0, 90), key(0.4, 100), key(0.8, 90)] }
}

/** A path that stands still. */
const still = (job: Job): LampPath => ({
  ...round(job),
  name: 'Still',
  loop: false,
  keys: [round(job).keys[0]!],
})

beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-movie-'))
  process.chdir(folder)
  writeFileSync('lens.psd', lensArt())
  await runCli('job', 'lens.psd', '-o', 'lens.job.json')
  const job = parseJob(readFileSync('lens.job.json', 'utf8'), 'lens.job.json')
  writeFileSync('round.job.json', jobText({ ...job, paths: [round(job), still(job)] }))
  const frames = ['--frames', '8', '--size', '96x64', '--path', 'Round'] as const
  await runCli('frames', 'round.job.json', '--out', 'exact', ...frames)
})

afterAll(() => {
  process.chdir(here)
  process.env.PATH = path
  rmSync(folder, { recursive: true, force: true })
})

/** Frame 1..8 as the command `frames` writes it. */
const exact = (frame: number) => decodePng(readFileSync(`exact/frame-000${frame}.png`)).data

/** Files that are not there unless a movie left something behind. */
const leftovers = () => readdirSync('.').filter(name => name.includes('rakelight-part'))

const sha256 = (name: string) => createHash('sha256').update(readFileSync(name)).digest('hex')

/** Root mean square and largest difference of two pictures, in steps of 8 bits. */
function differences(a: ArrayLike<number>, b: ArrayLike<number>): { rms: number; worst: number } {
  let square = 0
  let worst = 0
  for (let i = 0; i < a.length; i++) {
    const d = Math.abs(a[i]! - b[i]!)
    square += d * d
    worst = Math.max(worst, d)
  }
  return { rms: Math.sqrt(square / a.length), worst }
}

describe('movie', () => {
  test('an animated PNG holds the frames of `frames` bit for bit, at the asked pace, and goes round', async () => {
    const { code, out, err } = await movie('round.png', '--json')
    expect(code).toBe(0)
    expect(JSON.parse(out)).toMatchObject({
      ...size,
      frames: 8,
      rate: 10,
      seconds: 0.8,
      loops: true,
      encoder: 'animated PNG',
      flashes: [],
    })
    expect(err).toContain('without a seam when it is repeated')
    const read = decodeApng(readFileSync('round.png'))
    expect(read).toMatchObject({ ...size, numberOfFrames: 8, numberOfPlays: 0 })
    for (const [i, { data, delayNumber, delayDenominator }] of read.frames.entries()) {
      expect(delayNumber / delayDenominator).toBe(0.1)
      expect(differences(data, exact(i + 1)).worst).toBe(0)
    }
    // A reader without animation sees the first frame.
    expect(differences(decodePng(readFileSync('round.png')).data, exact(1)).worst).toBe(0)
    await movie('again.png')
    expect(sha256('again.png')).toBe(sha256('round.png'))
  })

  test('a loop has no seam: from the last frame to the first is a step like the others', () => {
    const steps = Array.from({ length: 8 }, (_, i) => differences(exact(i + 1), exact(((i + 1) % 8) + 1)).rms)
    // Nothing stands still, as it would if the last frame repeated the first.
    expect(Math.min(...steps)).toBeGreaterThan(0)
    // The path swings there and back: the step over the seam mirrors the one before its turning point.
    expect(steps[7]!).toBeCloseTo(steps[0]!, 6)
  })

  test.skipIf(!ffmpegIsHere)(
    'ffmpeg reads the animated PNG and the GIF: frames, size, rate and colours',
    async () => {
      expect((await movie('round.gif')).code).toBe(0)
      for (const [file, rms, worst] of [
        ['round.png', 0, 0],
        // 256 colours a frame, chosen on 5, 6 and 5 bits: half a step of 5 bits is 4, and rare colours go to a neighbour.
        ['round.gif', 3, 40],
      ] as const) {
        expect(probeMovie(file)).toMatchObject({ ...size, frames: 8, rate: '10/1' })
        const frames = decodeMovie(file, 'rgb24', size)
        expect(frames).toHaveLength(8)
        for (const [i, frame] of frames.entries()) {
          const found = differences(frame, exact(i + 1))
          expect(found.rms, `${file}, frame ${i + 1}`).toBeLessThanOrEqual(rms)
          expect(found.worst, `${file}, frame ${i + 1}`).toBeLessThanOrEqual(worst)
        }
      }
    },
  )

  test('a GIF at 24 frames a second does not drift: its hundredths sum up', async () => {
    await movie('drift.gif', '--rate', '24', '--frames', '12')
    const bytes = readFileSync('drift.gif')
    const delays: number[] = []
    // Graphic control extensions: 21 F9 04, flags, delay of 16 bits. Source: GIF89a, 23.
    for (let i = 0; i < bytes.length - 8; i++)
      if (bytes[i] === 0x21 && bytes[i + 1] === 0xf9 && bytes[i + 2] === 4 && bytes[i + 7] === 0)
        delays.push(bytes.readUInt16LE(i + 4))
    expect(delays).toHaveLength(12)
    expect(new Set(delays)).toEqual(new Set([4, 5]))
    expect(delays.reduce((a, b) => a + b)).toBe(50)
  })

  describe.skipIf(!ffmpegIsHere)('WebM and MP4 by the ffmpeg on the PATH', () => {
    test.each([
      ['round.webm', 'vp9'],
      ['round.mp4', 'h264'],
    ])('%s is read back by ffprobe and ffmpeg: frames, size, rate, colours', async (file, codec) => {
      const { code, out } = await movie(file, '--bitrate', '8', '--json')
      expect(code).toBe(0)
      expect(JSON.parse(out).bytes).toBe(readFileSync(file).length)
      expect(probeMovie(file)).toMatchObject({
        ...size,
        codec,
        frames: 8,
        rate: '10/1',
        seconds: expect.closeTo(0.8, 2),
        pixels: 'yuv420p',
        range: 'tv',
        matrix: 'bt709',
      })
      const frames = decodeMovie(file, 'rgb24', size)
      for (const [i, frame] of frames.entries()) {
        // The panel fills some 60 pixels with print and rings: at its edges 4:2:0 mixes colours. Measured 5.4 at most.
        expect(differences(frame, exact(i + 1)).rms, `${file}, frame ${i + 1}`).toBeLessThan(7)
      }
      expect(leftovers()).toEqual([])
    })

    test.each(['webm', 'mp4'] as const)('%s holds the colours of a chart', async kind => {
      // Sixteen even patches of 16 pixels: the corners of the RGB cube, then tints and greys.
      const colours = [0, 1, 2, 3, 4, 5, 6, 7]
        .map(i => [i & 1, (i >> 1) & 1, i >> 2].map(part => 255 * part))
        .concat([40, 90, 123, 180, 220].map(grey => [grey, grey, grey]))
        .concat([
          [201, 35, 38],
          [1, 136, 81],
          [198, 17, 116],
        ])
      const chart = Uint8Array.from({ length: 64 * 64 * 3 }, (_, i) => {
        const [x, y] = [Math.floor(i / 3) % 64, Math.floor(i / 192)]
        return colours[4 * Math.floor(y / 16) + Math.floor(x / 16)]![i % 3]!
      })
      const shape = { kind, width: 64, height: 64, rate: 25, bitrate: 8e6, clear: false }
      const encoder = new VideoEncoder(shape, findEncoder(shape), `chart.${kind}`, `chart.${kind}`)
      for (let i = 0; i < 5; i++) await encoder.add(chart)
      await encoder.end()
      const frames = decodeMovie(`chart.${kind}`, 'rgb24', shape)
      expect(frames).toHaveLength(5)
      let worst = 0
      for (const frame of frames)
        for (const [p, colour] of colours.entries())
          for (let c = 0; c < 3; c++) {
            const middle = 3 * (64 * (16 * Math.floor(p / 4) + 8) + 16 * (p % 4) + 8) + c
            worst = Math.max(worst, Math.abs(frame[middle]! - colour[c]!))
          }
      // Limited range has 219 steps of luma and 224 of colour difference for 255, which BT.709 turns back into RGB with
      // factors up to 1.86: half a step of each is 0.6 + 1.1 at most, two with rounding; the encoder quantizes beside.
      expect(worst).toBeLessThanOrEqual(4)
    })

    test('a WebM keeps a clear background', async () => {
      const { code } = await movie('clear.webm', '--background', 'transparent', '--frames', '2')
      expect(code).toBe(0)
      const [first] = decodeMovie('clear.webm', 'rgba', size, 'libvpx-vp9')
      expect(first![3]).toBeLessThan(8)
      expect(first![4 * (32 * 96 + 48) + 3]).toBeGreaterThan(247)
    })

    test('stopped in the middle it leaves nothing, and what was there stays', async () => {
      writeFileSync('kept.webm', 'older')
      const stop = setInterval(() => {
        if (leftovers().length > 0) process.emit('SIGINT')
      }, 5)
      const { code, err } = await movie('kept.webm', '--frames', '600', '--size', '640x480')
      clearInterval(stop)
      expect(code).toBe(130)
      expect(err).toContain('rakelight: stopped')
      expect(readFileSync('kept.webm', 'utf8')).toBe('older')
      expect(leftovers()).toEqual([])
    })
  })

  test('without ffmpeg it says what to install, and what needs none', async () => {
    process.env.PATH = folder
    const { code, err } = await movie('none.webm')
    process.env.PATH = path
    expect(code).toBe(1)
    expect(err).toMatch(
      /there is none on the PATH\. Install ffmpeg .*apt install ffmpeg.*\.gif or \.png.*The window writes WebM/,
    )
    expect(readdirSync('.')).not.toContain('none.webm')
  })

  // A stand-in for a disk that fills up in the middle, which only ffmpeg sees.
  test.skipIf(process.platform === 'win32')(
    'a disk that is full is said, and nothing half is left',
    async () => {
      mkdirSync('bin')
      writeFileSync(
        'bin/ffmpeg',
        '#!/bin/sh\ncase "$*" in *-encoders*) echo " V....D libvpx-vp9           VP9"; exit 0;; esac\n' +
          'head -c 30000 >/dev/null; echo "av_interleaved_write_frame(): No space left on device" >&2; exit 1\n',
      )
      chmodSync('bin/ffmpeg', 0o755)
      process.env.PATH = `${join(folder, 'bin')}:${path}`
      const { code, err } = await movie('full.webm')
      process.env.PATH = path
      expect(code).toBe(1)
      expect(err).toContain('full.webm: writing to full.webm: the disk is full. Make room and try again')
      expect(readdirSync('.')).not.toContain('full.webm')
      expect(leftovers()).toEqual([])
    },
  )

  test.each([
    [['x.avi'], 2, '.webm, .mp4, .gif, .png'],
    [['x.gif', '--frames', '0'], 2, '--frames: expected a whole number from 1 to 99999, got "0"'],
    [['x.gif', '--frames', '100000'], 2, '--frames: expected a whole number from 1 to 99999, got "100000"'],
    [['x.gif', '--duration', '100000'], 1, '1000000 frames, and 99999 are the most'],
    [['x.gif', '--duration', '0'], 2, '--duration: expected seconds above 0'],
    [['x.gif', '--duration', '1', '--frames', '3'], 2, 'say the same; give one of them'],
    [['x.gif', '--path', 'Still'], 1, 'nothing moves on it, so the movie has no length of its own'],
    [['x.gif', '--rate', '60'], 1, 'a GIF shows at most 50 frames a second'],
    [['x.mp4', '--size', '95x64'], 1, 'MP4 wants even sides, got 95 × 64'],
    [['x.mp4', '--background', 'transparent'], 1, 'MP4 has no transparency'],
    [['x.gif', '--background', 'grey'], 2, '--background: expected transparent or #rrggbb'],
    [['x.gif', '--grid', '9'], 2, '--grid: expected a whole number from 1 to 8'],
    [['nowhere/x.gif'], 1, 'the folder is not there and cannot be made here'],
  ])('%j is refused with the reason', async ([out, ...args], wanted, said) => {
    const { code, err } = await movie(out!, ...args)
    expect(err).toContain(said)
    expect(code).toBe(wanted)
    expect(readdirSync('.').filter(name => name.startsWith('x.'))).toEqual([])
  })
})
