import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeFileSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Plane } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { openFile } from '../../electron/file-source.ts'
import { type PsdDoc, psdParts } from '../support/psd-write.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import { commandSeconds, ownProcess, secondsSince, watchMemory } from './own-process.ts'

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
    const own = ownProcess<Measured>(import.meta.url, 'decodeAll', file)
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

/** Decodes every layer plane and keeps it. */
export async function decodeAll(path: string): Promise<Measured> {
  let kept = 0
  const memory = watchMemory()
  const watch = () => memory.look(kept)
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
  const seconds = secondsSince(began)
  clearInterval(timer)
  await source.close()
  return {
    seconds,
    kept: planes.reduce((sum, plane) => sum + plane.data.byteLength, 0),
    beyond: memory.most(),
  }
}

/** Processor seconds that ImageMagick takes to read every layer; null where it is not installed. */
function magick(folder: string, file: string): number | null {
  const limits = { memory: '16GiB', map: '16GiB', disk: '16GiB', area: '4GP', width: '32KP', height: '32KP' }
  const lines = Object.entries(limits).map(([k, v]) => `<policy domain="resource" name="${k}" value="${v}"/>`)
  writeFileSync(join(folder, 'policy.xml'), `<policymap>${lines.join('')}</policymap>`)
  return commandSeconds('convert "$0" null:', file, {
    MAGICK_CONFIGURE_PATH: folder,
    MAGICK_THREAD_LIMIT: '1',
  })
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
