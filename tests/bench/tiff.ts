import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openTiff } from '../../core/art/tiff.ts'
import type { ByteSource } from '../../core/base/source.ts'
import { openFile } from '../../electron/file-source.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import { commandSeconds, ownProcess, secondsSince, watchMemory } from './own-process.ts'

/** Six inks of 8 bits in tiles, 500 MB: a sheet of 840 × 700 mm at 300 pixels an inch. */
const width = 9984
const height = 8320
const tile = 256
const samples = 6

/**
 * A TIFF of 500 MB read by its tiles: all planes in strips, as the map is built, and one strip from its middle.
 * Processor seconds, against libvips reading every pixel of the same file; memory is that of the whole process beyond
 * what it held before.
 */
export async function run(): Promise<BenchResult> {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-tiff-'))
  try {
    const file = join(folder, 'sheet.tif')
    writeTiles(file)
    const own = ownProcess<Measured>(import.meta.url, 'readAll', file)
    const peer = commandSeconds('vips avg "$0"', file, { VIPS_CONCURRENCY: '1' })
    const rows: BenchRow[] = [
      { name: 'all planes in strips', value: own.seconds, unit: 's', aim: null },
      { name: 'memory beyond what was held before, at most', value: own.beyond / 1e6, unit: 'MB', aim: 250 },
      { name: 'one strip of 100 rows', value: own.strip * 1000, unit: 'ms', aim: null },
      { name: 'read for it', value: own.stripBytes / 1e6, unit: 'MB', aim: 40 },
    ]
    if (peer !== null)
      rows.push(
        { name: 'libvips, every pixel', value: peer, unit: 's', aim: null },
        { name: 'ours over libvips', value: own.seconds / peer, unit: 'x', aim: 3 },
      )
    const megabytes = Math.round(statSync(file).size / 1e6)
    return {
      title: `a TIFF of ${width} × ${height}, ${samples} inks, tiles of ${tile}, ${megabytes} MB`,
      rows,
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Measured {
  readonly seconds: number
  readonly beyond: number
  readonly strip: number
  readonly stripBytes: number
}

/** Reads every plane, strip by strip, and keeps none. */
export async function readAll(path: string): Promise<Measured> {
  const opened = await openFile(path)
  let bytes = 0
  const source: ByteSource = {
    name: opened.name,
    size: opened.size,
    read: (offset, length) => {
      bytes += length
      return opened.read(offset, length)
    },
  }
  const memory = watchMemory()
  const timer = setInterval(memory.look, 10)
  const options = { memoryBudget: 2 ** 30 }
  const middle = Math.round(height / 2)
  bytes = 0
  let began = process.cpuUsage()
  const once = await openTiff(source, options)
  for (let plane = 0; plane < samples; plane++)
    await once.documentPlane(plane, { top: middle, bottom: middle + 100 })
  const strip = secondsSince(began)
  const stripBytes = bytes
  const file = await openTiff(source, options)
  began = process.cpuUsage()
  let sum = 0
  for (let top = 0; top < height; top += 210)
    for (let plane = 0; plane < samples; plane++) {
      const { data } = await file.documentPlane(plane, { top, bottom: Math.min(height, top + 210) })
      sum += data[data.length - 1]!
      memory.look()
    }
  const seconds = secondsSince(began)
  clearInterval(timer)
  await opened.close()
  if (!(sum > 0)) throw new Error('expected samples')
  return { seconds, beyond: memory.most(), strip, stripBytes }
}

/** Tiles one after the other, then the directory. */
function writeTiles(path: string): void {
  const out = openSync(path, 'w')
  try {
    const count = (width / tile) * Math.ceil(height / tile)
    const size = tile * tile * samples
    writeSync(out, Uint8Array.of(0x49, 0x49, 42, 0, 0, 0, 0, 0))
    const pixels = new Uint8Array(size)
    for (let i = 0; i < count; i++) {
      for (let at = 0; at < size; at++) pixels[at] = (at * 7 + i * 31 + (at >> 9)) & 255
      writeSync(out, pixels)
    }
    const names = new TextEncoder().encode('Cyan\0Magenta\0Yellow\0Black\0White\0Holo foil\0')
    const at = 8 + count * size
    // Bits, ink names, resolution, where the tiles begin and how long they are; then the fields.
    const tail = new DataView(new ArrayBuffer(12 + 64 + 8 + 8 * count + 2 + 16 * 12 + 4))
    for (let s = 0; s < samples; s++) tail.setUint16(2 * s, 8, true)
    new Uint8Array(tail.buffer).set(names, 12)
    tail.setUint32(76, 300, true)
    tail.setUint32(80, 1, true)
    for (let i = 0; i < count; i++) {
      tail.setUint32(84 + 4 * i, 8 + i * size, true)
      tail.setUint32(84 + 4 * (count + i), size, true)
    }
    const fields = [
      [256, 4, 1, width],
      [257, 4, 1, height],
      [258, 3, samples, at],
      [259, 3, 1, 1],
      [262, 3, 1, 5],
      [277, 3, 1, samples],
      [282, 5, 1, at + 76],
      [283, 5, 1, at + 76],
      [284, 3, 1, 1],
      [296, 3, 1, 2],
      [322, 4, 1, tile],
      [323, 4, 1, tile],
      [324, 4, count, at + 84],
      [325, 4, count, at + 84 + 4 * count],
      [332, 3, 1, 2],
      [333, 2, names.length, at + 12],
    ] as const
    let to = 84 + 8 * count
    const dir = at + to
    tail.setUint16(to, fields.length, true)
    to += 2
    for (const [tag, type, length, value] of fields) {
      tail.setUint16(to, tag, true)
      tail.setUint16(to + 2, type, true)
      tail.setUint32(to + 4, length, true)
      tail.setUint32(to + 8, value, true)
      to += 12
    }
    writeSync(out, new Uint8Array(tail.buffer))
    const link = new Uint8Array(4)
    new DataView(link.buffer).setUint32(0, dir, true)
    writeSync(out, link, 0, 4, 4)
  } finally {
    closeSync(out)
  }
}
