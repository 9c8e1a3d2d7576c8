import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { labPlane } from '../../core/color/ink-plane.ts'
import { openColorEngine } from '../../core/color/profile.ts'
import { readPrintCondition } from '../../core/color/read-condition.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const profile = 'core/data/icc/ISOcoated_v2_300_bas.icc'
const runs = 5
/** Pixels a side: the difference between the two is free of the start of a process. */
const [small, large] = [1024, 4096]

/**
 * Whole planes of CMYK to L*a*b*, a byte a component, on one core, against tificc (liblcms2-utils) on the same
 * pictures. Seconds of user time, best of several runs; the native engine's are taken from two sizes, so that its
 * start and the reading of the profile fall out. What it spends on its files stays in: the user waits for that too.
 */
export async function run(): Promise<BenchResult> {
  const engine = await openColorEngine()
  const icc = new Uint8Array(readFileSync(profile))
  const began = process.cpuUsage()
  const condition = readPrintCondition(engine, icc, { intent: 'relative', blackPoint: false }, profile)
  const convert = labPlane(condition)
  const read = process.cpuUsage(began).user / 1e6
  const rows: BenchRow[] = [{ name: 'reading the profile', value: read, unit: 's', aim: null }]
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-profile-'))
  try {
    for (const [name, fill] of [
      ['random inks', random],
      ['flat artwork', flat],
    ] as const) {
      const pixels = fill(large)
      const out = new Uint8Array((pixels.length / 4) * 3)
      const own = best(() => {
        const start = process.cpuUsage()
        convert(pixels, out)
        return process.cpuUsage(start).user / 1e6
      })
      const megapixels = large ** 2 / 1e6
      rows.push({ name: `${name}, ours`, value: megapixels / own, unit: 'Mpx/s', aim: null })
      const few = native(folder, fill(small), small)
      const many = native(folder, pixels, large)
      if (few === null || many === null) continue
      const speed = (large ** 2 - small ** 2) / 1e6 / (many - few)
      rows.push(
        { name: `${name}, native`, value: speed, unit: 'Mpx/s', aim: null },
        // The aim of at least 1 the other way about: what must not exceed 1 is native over ours.
        { name: `${name}, native over ours`, value: speed / (megapixels / own), unit: 'x', aim: 1 },
      )
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
  return { title: `CMYK to L*a*b*, ${large} × ${large}, one core`, rows }
}

const best = (once: () => number): number => Math.min(...Array.from({ length: runs }, once))

/** Noise of a linear congruential generator (numbers of Numerical Recipes). */
function random(side: number): Uint8Array {
  const pixels = new Uint8Array(4 * side * side)
  let seed = 1
  for (let i = 0; i < pixels.length; i++) {
    seed = (Math.imul(seed, 1664525) + 1013904223) | 0
    pixels[i] = seed >>> 24
  }
  return pixels
}

/** Areas of 64 × 64 pixels, each of one ink mix. */
function flat(side: number): Uint8Array {
  const mixes = random(side / 64)
  const pixels = new Uint8Array(4 * side * side)
  for (let y = 0, to = 0; y < side; y++)
    for (let x = 0; x < side; x++, to += 4) {
      const from = 4 * ((y >> 6) * (side >> 6) + (x >> 6))
      pixels.set(mixes.subarray(from, from + 4), to)
    }
  return pixels
}

/** User seconds that tificc takes; null where it is not installed. */
function native(folder: string, pixels: Uint8Array, side: number): number | null {
  const input = join(folder, 'in.tif')
  writeFileSync(input, tiff(pixels, side))
  // `times` prints what the children took, in its last line.
  const script = 'tificc -t1 -w8 -i "$0" -o "*Lab" "$1" "$2" >/dev/null && times'
  const once = () => {
    const done = spawnSync('bash', ['-c', script, profile, input, join(folder, 'out.tif')], {
      encoding: 'utf8',
    })
    if (done.status === 127) return null
    if (done.status !== 0) throw new Error(`tificc ended with status ${done.status}: ${done.stderr}`)
    const [minutes, seconds] = done.stdout.trim().split('\n').at(-1)!.split(' ')[0]!.split('m')
    return Number(minutes) * 60 + Number.parseFloat(seconds!)
  }
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < runs; i++) {
    const took = once()
    if (took === null) return null
    least = Math.min(least, took)
  }
  return least
}

/** A plain CMYK file of one strip. Source: TIFF 6.0, sections 2 and 16. */
function tiff(pixels: Uint8Array, side: number): Uint8Array {
  const entries: readonly (readonly [tag: number, type: number, count: number, value: number])[] = [
    [256, 4, 1, side],
    [257, 4, 1, side],
    [258, 3, 4, 8],
    [259, 3, 1, 1],
    [262, 3, 1, 5],
    [273, 4, 1, 256],
    [277, 3, 1, 4],
    [278, 4, 1, side],
    [279, 4, 1, pixels.length],
    [284, 3, 1, 1],
  ]
  const file = new Uint8Array(256 + pixels.length)
  const view = new DataView(file.buffer)
  file.set([0x49, 0x49, 42, 0, 8, 0, 0, 0])
  view.setUint16(8, entries.length, true)
  const bits = 8 + 2 + 12 * entries.length + 4
  entries.forEach(([tag, type, count, value], i) => {
    const at = 10 + 12 * i
    view.setUint16(at, tag, true)
    view.setUint16(at + 2, type, true)
    view.setUint32(at + 4, count, true)
    if (count === 4) {
      view.setUint32(at + 8, bits, true)
      for (let n = 0; n < 4; n++) view.setUint16(bits + 2 * n, value, true)
    } else if (type === 3) view.setUint16(at + 8, value, true)
    else view.setUint32(at + 8, value, true)
  })
  file.set(pixels, 256)
  return file
}
