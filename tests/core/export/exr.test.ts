import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DataUtils, FloatType, HalfFloatType } from 'three'
import { EXRLoader } from 'three/addons/loaders/EXRLoader.js'
import { describe, expect, test } from 'vitest'
import { type ExrPicture, whiteLuminanceUnder, writeExr } from '../../../core/export/exr.ts'
import { toHalf } from '../../../core/export/half.ts'
import { hasTool } from '../../support/tools.ts'

const width = 19
const height = 37
const rgba = Float32Array.from({ length: 4 * width * height }, (_, i) =>
  i % 4 === 3 ? 1 : Math.fround(Math.sin(i * 1.7) * 10 ** ((i % 11) - 5)),
)
const picture: ExrPicture = {
  width,
  height,
  rgba,
  samples: 'float',
  chromaticities: [
    [0.64, 0.33],
    [0.3, 0.6],
    [0.15, 0.06],
    [0.3127, 0.329],
  ],
  whiteLuminance: whiteLuminanceUnder(500),
  adoptedNeutral: [0.3457, 0.3585],
  comments: 'a test – with a dash',
}

const smooth = Float32Array.from({ length: 4 * width * height }, (_, i) => Math.fround((i >> 2) / 64))

/** The reader of the package that the window draws with; rows come from the bottom up. */
function read(own: Partial<ExrPicture>, type: typeof FloatType | typeof HalfFloatType) {
  const bytes = writeExr({ ...picture, ...own })
  const loader = new EXRLoader()
  loader.setDataType(type)
  const { data } = loader.parse(bytes.slice().buffer) as { data: Float32Array | Uint16Array }
  const rows = Array.from({ length: height }, (_, y) => [
    ...data.subarray(4 * width * (height - 1 - y), 4 * width * (height - y)),
  ])
  return rows.flat()
}

describe('OpenEXR', () => {
  test.each([
    ['busy', rgba],
    ['smooth', smooth],
  ])('32-bit samples come back exactly: %s', (_, values) => {
    expect(read({ rgba: values }, FloatType)).toEqual([...values])
  })

  test('16-bit samples come back as the nearest there are', () => {
    const got = read({ samples: 'half' }, HalfFloatType)
    for (const [i, half] of got.entries()) {
      const value = DataUtils.fromHalfFloat(half)
      // Eleven bits count, or steps of 2^-24 near nought: IEEE 754-2019, binary16.
      const step = Math.max(2 ** -24, 2 ** (Math.floor(Math.log2(Math.abs(rgba[i]!))) - 10))
      expect(Math.abs(value - Math.max(-65504, Math.min(65504, rgba[i]!)))).toBeLessThanOrEqual(step / 2)
    }
  })

  // IEEE 754-2019, binary16: bit patterns worked out by hand.
  test.each([
    [0, 0x0000],
    [1, 0x3c00],
    [-2, 0xc000],
    [65504, 0x7bff],
    [65520, 0x7c00],
    [2 ** -24, 0x0001],
    [2 ** -25, 0x0000],
    [3 * 2 ** -25, 0x0002],
    [2 ** -14, 0x0400],
    [1 + 2 ** -11, 0x3c00],
    [1 + 3 * 2 ** -11, 0x3c02],
    [Number.NaN, 0x7e00],
  ])('%f in 16 bits', (value, bits) => {
    expect(toHalf(value)).toBe(bits)
  })

  // libvips reads by the standard's own library.
  test.skipIf(!hasTool('vips', '--version'))('the standard’s own library reads every sample', () => {
    const folder = mkdtempSync(join(tmpdir(), 'exr-'))
    try {
      for (const values of [rgba, smooth]) {
        const [path, raw] = [join(folder, 'a.exr'), join(folder, 'a.raw')]
        writeFileSync(path, writeExr({ ...picture, rgba: values, samples: 'half' }))
        execFileSync('vips', ['rawsave', path, raw])
        const bytes = readFileSync(raw)
        const got = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length))
        const bands = got.length / width / height
        expect(bands).toBe(4)
        for (let i = 0; i < got.length; i++)
          if (i % 4 < 3)
            expect(got[i]).toBe(
              DataUtils.fromHalfFloat(toHalf(Math.max(-65504, Math.min(65504, values[i]!)))),
            )
      }
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  test('chromaticities, white and its luminance stand in the head', () => {
    const bytes = writeExr(picture)
    const at = (name: string) => Buffer.from(bytes).indexOf(`${name}\0`)
    const view = new DataView(bytes.buffer)
    const from = at('chromaticities\0chromaticities') + 2 * 'chromaticities\0'.length
    expect(view.getInt32(from, true)).toBe(32)
    const got = Array.from({ length: 8 }, (_, i) => view.getFloat32(from + 4 + 4 * i, true))
    for (const [i, value] of picture.chromaticities.flat().entries()) expect(got[i]).toBeCloseTo(value, 6)
    // A perfect white under 500 lx: 500 / π = 159.15 cd/m².
    const white = at('whiteLuminance\0float') + 'whiteLuminance\0float\0'.length
    expect(view.getFloat32(white + 4, true)).toBeCloseTo(159.155, 2)
  })
})
