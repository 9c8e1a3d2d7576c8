import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { type TiffHead, writeTiff } from '../../../core/export/tiff.ts'
import { hasTool } from '../../support/tools.ts'

const width = 37
const height = 29
const head = (own: Partial<TiffHead>): TiffHead => ({
  width,
  height,
  depth: 8,
  color: { kind: 'rgb' },
  icc: null,
  pixelsPerMm: 600 / 25.4,
  packed: 'deflate',
  ...own,
})

const samplesFor = (count: number, depth: 8 | 16): Uint8Array | Uint16Array => {
  const length = width * height * count
  return depth === 8
    ? Uint8Array.from({ length }, (_, i) => (i * 40503) % 256)
    : Uint16Array.from({ length }, (_, i) => (i * 40503) % 65536)
}

function written(
  own: Partial<TiffHead>,
  count: number,
): { bytes: Uint8Array; data: Uint8Array | Uint16Array } {
  const data = samplesFor(count, own.depth ?? 8)
  const row = width * count
  return { data, bytes: writeTiff(head(own), (top, bottom) => data.subarray(top * row, bottom * row)) }
}

/** Values of a directory entry, read by the standard's own words and nothing of the writer's. */
function entry(bytes: Uint8Array, tag: number): readonly number[] | null {
  const view = new DataView(bytes.buffer)
  const at = view.getUint32(4, true)
  for (let i = 0; i < view.getUint16(at, true); i++) {
    const place = at + 2 + 12 * i
    if (view.getUint16(place, true) !== tag) continue
    const type = view.getUint16(place + 2, true)
    const count = view.getUint32(place + 4, true)
    const size = { 2: 1, 3: 2, 4: 4, 5: 8, 7: 1 }[type] ?? 0
    const from = size * count <= 4 ? place + 8 : view.getUint32(place + 8, true)
    return Array.from({ length: count }, (_, k) => {
      const spot = from + size * k
      if (size === 1) return bytes[spot]!
      if (size === 2) return view.getUint16(spot, true)
      return size === 4
        ? view.getUint32(spot, true)
        : view.getUint32(spot, true) / view.getUint32(spot + 4, true)
    })
  }
  return null
}

describe('TIFF', () => {
  test('the same picture gives the same bytes', () => {
    expect(written({}, 3).bytes).toEqual(written({}, 3).bytes)
  })

  // TIFF 6.0: pages 24 (resolution), 37 (resolution unit 3 = centimetre), 71 (ink set, names, number of inks).
  test('size and inks are said in the standard’s own fields', () => {
    const { bytes } = written({ color: { kind: 'inks', names: ['Opaque white', 'Varnish'] } }, 2)
    expect(entry(bytes, 296)).toEqual([3])
    expect(entry(bytes, 282)![0]).toBeCloseTo(6000 / 25.4, 6)
    expect(entry(bytes, 262)).toEqual([5])
    expect(entry(bytes, 332)).toEqual([2])
    expect(entry(bytes, 334)).toEqual([2])
    expect(String.fromCharCode(...entry(bytes, 333)!)).toBe('Opaque white\0Varnish\0')
  })

  test('directory entries stand in ascending order and at even places', () => {
    const { bytes } = written({ description: 'ä', icc: new Uint8Array(7), software: 'x' }, 3)
    const view = new DataView(bytes.buffer)
    const at = view.getUint32(4, true)
    const tags = Array.from({ length: view.getUint16(at, true) }, (_, i) =>
      view.getUint16(at + 2 + 12 * i, true),
    )
    expect(tags).toEqual([...tags].sort((a, b) => a - b))
    expect(at % 2).toBe(0)
    expect(entry(bytes, 273)!.every(offset => offset % 2 === 0)).toBe(true)
    expect(entry(bytes, 34675)).toEqual([0, 0, 0, 0, 0, 0, 0])
  })

  test('rows that do not fill the strip are refused', () => {
    expect(() => writeTiff(head({}), () => new Uint8Array(3))).toThrow(
      'expected 3219 samples of 8 bits, got 3',
    )
    expect(() => writeTiff(head({ depth: 16 }), () => new Uint8Array(3219))).toThrow('of 16 bits')
  })

  // libtiff, by ImageMagick, is the independent reader.
  const cases: readonly (readonly [string, Partial<TiffHead>, number, string])[] = [
    ['RGB of 8 bits', {}, 3, 'rgb'],
    ['RGB of 16 bits', { depth: 16 }, 3, 'rgb'],
    ['RGB, not packed', { packed: 'none' }, 3, 'rgb'],
    ['RGB with alpha', { alpha: true }, 4, 'rgba'],
    ['grey', { color: { kind: 'grey', white: 'high' } }, 1, 'gray'],
    [
      'C M Y K of 16 bits',
      { depth: 16, color: { kind: 'inks', names: ['Cyan', 'Magenta', 'Yellow', 'Black'] } },
      4,
      'cmyk',
    ],
  ]
  test.skipIf(!hasTool('convert', '-version')).each(cases)(
    'ImageMagick reads back every sample: %s',
    (_, own, count, map) => {
      const { bytes, data } = written(own, count)
      const folder = mkdtempSync(join(tmpdir(), 'tiff-'))
      try {
        const [path, raw] = [join(folder, 'a.tif'), join(folder, `a.${map}`)]
        writeFileSync(path, bytes)
        execFileSync('convert', [path, '-depth', String(own.depth ?? 8), '-endian', 'LSB', `${map}:${raw}`])
        const read = readFileSync(raw)
        const given = new Uint8Array(data.buffer, data.byteOffset, data.byteLength)
        expect(new Uint8Array(read)).toEqual(given)
      } finally {
        rmSync(folder, { recursive: true })
      }
    },
  )

  test.skipIf(!hasTool('vipsheader', '--version'))('libvips has size, bands and resolution', () => {
    const folder = mkdtempSync(join(tmpdir(), 'tiff-'))
    try {
      const names = ['Cyan', 'Magenta', 'Yellow', 'Black', 'Opaque white']
      const path = join(folder, 'a.tif')
      writeFileSync(path, written({ color: { kind: 'inks', names } }, 5).bytes)
      const said = execFileSync('vipsheader', ['-a', path], { encoding: 'utf8' })
      expect(said).toMatch(/^width: 37$/m)
      expect(said).toMatch(/^height: 29$/m)
      expect(said).toMatch(/^bands: 5$/m)
      expect(Number(/^xres: (.*)$/m.exec(said)![1])).toBeCloseTo(600 / 25.4, 4)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})
