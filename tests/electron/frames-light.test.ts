import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import { setEffect } from '../../core/job/edit.ts'
import type { EyePose, Job, LampPose, PathKey } from '../../core/job/job.ts'
import { addLamp } from '../../core/job/lamps.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText } from '../../core/job/parse.ts'
import { rooms } from '../../core/job/rooms.ts'
import { build } from '../../scripts/build.mjs'
import { runCli } from '../support/run-cli.ts'

/** What `frames` makes of rooms, of the eye's way, of several lamps, of easing and of loops. Laws of symmetry decide. */

let folder: string
beforeAll(async () => {
  await build('workers')
  folder = mkdtempSync(join(tmpdir(), 'rakelight-frames-light-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

interface Shot {
  readonly width: number
  readonly height: number
  readonly data: readonly number[]
}

let runs = 0
async function shots(job: Job, count: number, size: string, ...more: string[]): Promise<readonly Shot[]> {
  const name = `run-${++runs}`
  const file = join(folder, `${name}.job.json`)
  writeFileSync(file, jobText(job))
  const out = join(folder, name)
  const { code, err } = await runCli(
    'frames',
    file,
    '--out',
    out,
    '--frames',
    String(count),
    '--size',
    size,
    ...more,
  )
  expect(err).toContain(`Wrote ${count} frame`)
  expect(code).toBe(0)
  return Array.from({ length: count }, (_, i) => {
    const { width, height, data } = decodePng(
      readFileSync(join(out, `frame-${String(i + 1).padStart(4, '0')}.png`)),
    )
    return { width, height, data: [...data] }
  })
}

const blank = blankJob(60, 60)
const window: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 30 }
const key = (timeS: number, change: Partial<PathKey> = {}): PathKey => ({
  timeS,
  lamp: window,
  pose: { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 },
  others: [],
  eye: null,
  ease: 'flow',
  ...change,
})
const along = (job: Job, keys: readonly PathKey[], loop = false): Job => ({
  ...job,
  paths: [{ name: 'Way', loop, keys }],
})
const mean = ({ data }: Shot): number => data.reduce((sum, value) => sum + value, 0) / data.length

/** Left and right exchanged. */
function mirrored({ width, height, data }: Shot): Shot['data'] {
  const out: number[] = Array(data.length)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let c = 0; c < 3; c++) out[3 * (y * width + x) + c] = data[3 * (y * width + width - 1 - x) + c]!
  return out
}

/** Largest difference, in codes. */
const apart = (a: Shot['data'], b: Shot['data']): number =>
  a.reduce((most, v, i) => Math.max(most, Math.abs(v - b[i]!)), 0)

describe('frames', () => {
  test('are brighter in a brighter room, where the lamp shows nothing', async () => {
    const target = { kind: 'layer', id: 'blank-holography' } as const
    const mirror = setEffect(target, { kind: 'plain', parameters: { sharePercent: 0 } })(
      along(blank, [key(0)]),
    )
    const levels: number[] = []
    for (const name of ['Blacked out', 'Office or home', 'By a window']) {
      const { roomLevel } = rooms.find(one => one.name === name)!
      const [shot] = await shots({ ...mirror, light: { ...mirror.light, roomLevel } }, 1, '16x16')
      levels.push(mean(shot!))
    }
    expect(levels[1]! - levels[0]!).toBeGreaterThan(5)
    expect(levels[2]! - levels[1]!).toBeGreaterThan(5)
  })

  // Lamp, grooves and panel are their own mirror images left and right; an eye on the other side sees the mirror image.
  test('go with the eye: from the right they are the mirror image of those from the left', async () => {
    const eye = (sideDeg: number): EyePose => ({ distanceMm: 400, sideDeg, riseDeg: 5 })
    const [left, middle, right] = await shots(
      along(blank, [key(0, { eye: eye(-30) }), key(0.2, { eye: eye(30) })]),
      3,
      '40x40',
    )
    expect(apart(left!.data, mirrored(right!))).toBeLessThanOrEqual(1)
    expect(apart(middle!.data, mirrored(middle!))).toBeLessThanOrEqual(1)
    expect(apart(left!.data, right!.data)).toBeGreaterThan(30)
  })

  test('move a second lamp by itself: on the other side it lights the mirror image', async () => {
    const two = addLamp(blank.light.lamps[0])(blank)
    const other = (azimuthDeg: number): LampPose => ({ ...window, azimuthDeg, elevationDeg: 50 })
    const [left, , right] = await shots(
      along(two, [key(0, { others: [other(150)] }), key(0.2, { others: [other(30)] })]),
      3,
      '40x40',
    )
    expect(apart(left!.data, mirrored(right!))).toBeLessThanOrEqual(1)
    const [one] = await shots(along(two, [key(0)]), 1, '40x40')
    expect(apart(one!.data, left!.data)).toBeGreaterThan(0)
  })

  // A quarter of the way: even ¼; from rest to rest 3t² − 2t³ = 0.15625; a jump has not left yet.
  test('pass a key as it says: evenly, from rest, flowing, by a jump', async () => {
    const tilt = (timeS: number, part: number, ease: PathKey['ease']) =>
      key(timeS, { pose: { tiltForwardDeg: 8 * part, tiltSideDeg: 0, turnDeg: 0 }, ease })
    const [still, rested, quarter] = await shots(
      along(blank, [tilt(0, 0, 'hold'), tilt(0.1, 0.15625, 'hold'), tilt(0.2, 0.25, 'hold')]),
      3,
      '24x24',
    )
    const expected = { even: quarter, rest: rested, flow: rested, hold: still } as const
    expect(apart(still!.data, rested!.data)).toBeGreaterThan(3)
    expect(apart(rested!.data, quarter!.data)).toBeGreaterThan(3)
    for (const [ease, picture] of Object.entries(expected)) {
      const all = await shots(
        along(blank, [tilt(0, 0, ease as PathKey['ease']), tilt(0.2, 1, 'flow')]),
        5,
        '24x24',
      )
      expect(apart(all[1]!.data, picture!.data), ease).toBeLessThanOrEqual(1)
    }
  })

  test('of a closed loop leave out its end, which is its beginning again; of another they reach it', async () => {
    const tilt = (timeS: number, tiltForwardDeg: number) =>
      key(timeS, { pose: { tiltForwardDeg, tiltSideDeg: 0, turnDeg: 0 } })
    const keys = [tilt(0, 0), tilt(0.1, 8), tilt(0.2, 0)]
    const loop = await shots(along(blank, keys, true), 4, '24x24')
    expect(apart(loop[1]!.data, loop[3]!.data)).toBeLessThanOrEqual(1)
    expect(apart(loop[0]!.data, loop[3]!.data)).toBeGreaterThan(3)
    const open = await shots(along(blank, keys), 3, '24x24')
    expect(apart(open[0]!.data, open[2]!.data)).toBe(0)
  })
})

describe('frames of holography out of register', () => {
  const register = { mode: 'continuous', repeatMm: 20, seamMm: 2, directionDeg: 90, sheet: 0 } as const
  const target = { kind: 'layer', id: 'blank-holography' } as const
  const bare: Job = { ...blank, sketch: { whitePart: 0 }, light: { ...blank.light, roomLevel: 0 } }
  const web = setEffect(target, { kind: 'plain', parameters: {}, register })(along(bare, [key(0)]))

  /** Middles of dark stretches down the picture's middle, mm from the panel's, upwards. 0.5 mm a pixel. */
  function seams({ width, height, data }: Shot): readonly number[] {
    const mm = (60 * 1.12) / height
    const bright = Array.from({ length: height }, (_, y) => {
      const at = 3 * (y * width + width / 2)
      return data[at]! + data[at + 1]! + data[at + 2]!
    })
    const out: number[] = []
    let from: number | null = null
    for (const [y, value] of bright.entries()) {
      // The outermost millimetre is not looked at: the ground begins there.
      if (Math.abs((height / 2 - y - 0.5) * mm) > 29) continue
      if (value < 150) from ??= y
      else if (from !== null) {
        out.push((height / 2 - (from + y) / 2) * mm)
        from = null
      }
    }
    return out
  }

  test('show a seam each repeat, elsewhere on each sheet, and the same again on the same', async () => {
    const [designed] = await shots(web, 1, '134x134')
    const found = seams(designed!)
    // Sheet 0 has its repeat around the panel's middle: seams at 10 mm above and below it. Half a pixel is 0.25 mm.
    expect(found).toHaveLength(2)
    expect(Math.abs(found[0]! - 10)).toBeLessThan(0.6)
    expect(Math.abs(found[1]! + 10)).toBeLessThan(0.6)
    const places = new Set([found.map(v => v.toFixed(1)).join()])
    for (const sheet of ['1', '2', '3']) {
      const [shot] = await shots(web, 1, '134x134', '--sheet', sheet)
      const moved = seams(shot!)
      for (let i = 1; i < moved.length; i++)
        expect(Math.abs(moved[i - 1]! - moved[i]! - 20)).toBeLessThan(0.6)
      places.add(moved.map(v => v.toFixed(1)).join())
    }
    expect(places.size).toBe(4)
  })
})
