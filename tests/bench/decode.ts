import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeFileSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Plane } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { openFile } from '../../electron/file-source.ts'
import { type PsdDoc, psdParts } from '../support/psd-write.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const side = 8000
const layerCount = 8

/**
 * Decode of a layered CMYK file against ImageMagick reading all layers of the same file, its resource policy raised.
 * Processor seconds of both: the machine may be busy with other things. The pixels mix what cartons hold: flat areas,
 * slow gradients, screened tints and photographic grain.
 */
export async function run(): Promise<BenchResult> {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-decode-'))
  try {
    const file = join(folder, 'decode.psd')
    writeParts(file, psdParts(bigDoc()))
    const megabytes = Math.round(statSync(file).size / 1e6)
    const own = ownProcess(file)
    const peer = magick(folder, file)
    const rows: BenchRow[] = [
      { name: 'all layer planes', value: own.seconds, unit: 's', aim: null },
      { name: 'planes kept', value: own.kept / 1e6, unit: 'MB', aim: null },
      { name: 'memory beyond them, at most', value: own.beyond / 1e6, unit: 'MB', aim: 1000 },
    ]
    if (peer !== null)
      rows.push(
        { name: 'ImageMagick, all layers', value: peer, unit: 's', aim: null },
        { name: 'ours over ImageMagick', value: own.seconds / peer, unit: 'x', aim: 0.5 },
      )
    const title = `decode of ${side} × ${side}, ${layerCount} CMYK layers with alpha, RLE, ${megabytes} MB`
    return { title, rows }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Measured {
  readonly seconds: number
  /** Bytes of planes kept. */
  readonly kept: number
  /** Most bytes that the process held above those and what it held before. */
  readonly beyond: number
}

/** In a process of its own, so that memory which the writer gave back does not stand in for memory of the reader. */
function ownProcess(path: string): Measured {
  const call = `const { decodeAll } = await import(${JSON.stringify(import.meta.url)}); console.log(JSON.stringify(await decodeAll(${JSON.stringify(path)})))`
  const child = spawnSync(process.execPath, ['--input-type=module', '-e', call], { encoding: 'utf8' })
  if (child.status !== 0) throw new Error(`decoding ended with status ${child.status}: ${child.stderr}`)
  return JSON.parse(child.stdout)
}

/** Decodes every layer plane and keeps it. */
export async function decodeAll(path: string): Promise<Measured> {
  const before = process.memoryUsage().rss
  let kept = 0
  let beyond = 0
  const watch = () => {
    beyond = Math.max(beyond, process.memoryUsage().rss - before - kept)
  }
  const timer = setInterval(watch, 10)
  const source = await openFile(path)
  const began = process.cpuUsage()
  const planes: Plane[] = []
  const file = await readArt(source)
  for (const layer of file.art.layers)
    for (const id of layer.channelIds) {
      const plane = await file.layerPlane(layer.id, id)
      if (plane === null) continue
      planes.push(plane)
      kept += plane.data.byteLength
      watch()
    }
  const { user, system } = process.cpuUsage(began)
  clearInterval(timer)
  await source.close()
  return {
    seconds: (user + system) / 1e6,
    kept: planes.reduce((sum, plane) => sum + plane.data.byteLength, 0),
    beyond,
  }
}

/** Processor seconds that ImageMagick takes to read every layer; null where it is not installed. */
function magick(folder: string, file: string): number | null {
  const limits = { memory: '16GiB', map: '16GiB', disk: '16GiB', area: '4GP', width: '32KP', height: '32KP' }
  const lines = Object.entries(limits).map(([k, v]) => `<policy domain="resource" name="${k}" value="${v}"/>`)
  writeFileSync(join(folder, 'policy.xml'), `<policymap>${lines.join('')}</policymap>`)
  // One thread: idle ones spin, which would count as work. `times` prints what the children took, in its last line.
  const script = 'convert "$0" null: && times'
  const done = spawnSync('bash', ['-c', script, file], {
    env: { ...process.env, MAGICK_CONFIGURE_PATH: folder, MAGICK_THREAD_LIMIT: '1' },
    encoding: 'utf8',
  })
  if (done.error || done.status === 127) return null
  if (done.status !== 0) throw new Error(`convert ended with status ${done.status}: ${done.stderr}`)
  const taken = [
    ...done.stdout
      .trim()
      .split('\n')
      .at(-1)!
      .matchAll(/(\d+)m([\d.]+)s/g),
  ]
  return taken.reduce((sum, [, minutes, seconds]) => sum + Number(minutes) * 60 + Number(seconds), 0)
}

function bigDoc(): PsdDoc {
  const box = { left: 0, top: 0, right: side, bottom: side }
  const flat = new Uint8Array(side * side).fill(255)
  return {
    width: side,
    height: side,
    mode: 'CMYK',
    depth: 8,
    ppi: 600,
    composite: [flat, flat, flat, flat],
    layers: Array.from({ length: layerCount }, (_, i) => ({
      name: `layer ${i + 1}`,
      box,
      planes: Object.fromEntries([-1, 0, 1, 2, 3].map(id => [id, () => pixels(i, id)])),
    })),
  }
}

/** A quarter each: flat, slow gradient, screened tint, grain; offset from plane to plane so that none are alike. */
function pixels(layer: number, id: number): Uint8Array {
  const out = new Uint8Array(side * side)
  const half = side / 2
  let seed = (layer * 5 + id + 2) * 2654435761
  for (let y = 0; y < side; y++) {
    const row = y * side
    const below = y >= half
    for (let x = 0; x < half; x++) out[row + x] = below ? (((x + y * 3 + id) & 7) < 4 ? 255 : 0) : 40 * layer
    for (let x = half; x < side; x++) {
      if (below) {
        seed = (seed * 1664525 + 1013904223) | 0
        out[row + x] = 128 + (seed >> 26)
      } else out[row + x] = ((x + y) >> 6) & 255
    }
  }
  return out
}

function writeParts(path: string, parts: readonly Uint8Array[]): void {
  const handle = openSync(path, 'w')
  for (const part of parts) writeSync(handle, part)
  closeSync(handle)
}
