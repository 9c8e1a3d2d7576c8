import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { deflateSync } from 'node:zlib'
import { encode } from 'fast-png'
import { describe, expect, it } from 'vitest'
import { openJpeg } from '../../../core/art/jpeg.ts'
import { plateNames } from '../../../core/art/plate-name.ts'
import { platesAsArt } from '../../../core/art/plates.ts'
import { openPng } from '../../../core/art/png.ts'
import { openTiff } from '../../../core/art/tiff.ts'
import { memorySource } from '../../../core/base/source.ts'
import { type TiffWish, tiffBytes } from '../../support/tiff-bytes.ts'
import { hasTool } from '../../support/tools.ts'

const options = { memoryBudget: 64 * 2 ** 20 }

/** A PNG of these chunks between its head and its end; their sums are not looked at. */
function pngOf(
  head: readonly number[],
  chunks: readonly (readonly [kind: string, body: Uint8Array])[],
): Uint8Array {
  const all = [['IHDR', Uint8Array.from(head)] as const, ...chunks, ['IEND', new Uint8Array(0)] as const]
  return Uint8Array.from([
    ...[0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    ...all.flatMap(([kind, body]) => {
      const length = new Uint8Array(4)
      new DataView(length.buffer).setUint32(0, body.length)
      return [...length, ...new TextEncoder().encode(kind), ...body, 0, 0, 0, 0]
    }),
  ])
}
const head = (width: number, height: number, bits: number, kind: number) => [
  0,
  0,
  0,
  width,
  0,
  0,
  0,
  height,
  bits,
  kind,
  0,
  0,
  0,
]

describe('a PNG as art', () => {
  it('RGB with alpha, rows of it', async () => {
    const data = Uint8Array.from({ length: 5 * 4 * 4 }, (_, i) => i * 3)
    const file = await openPng(
      memorySource('a.png', encode({ width: 5, height: 4, channels: 4, data })),
      options,
    )
    expect([file.art.colorMode, file.art.depth, file.art.resolutionPpi]).toEqual(['RGB', 8, null])
    expect(file.art.layers[0]!.channelIds).toEqual([0, 1, 2, -1])
    const plane = await file.layerPlane('flat', -1, { top: 1, bottom: 3 })
    expect([...plane!.data]).toEqual([...data].filter((_, i) => i % 4 === 3).slice(5, 15))
  })

  it('16 bits', async () => {
    const data = Uint16Array.from({ length: 12 }, (_, i) => i * 5000)
    const file = await openPng(
      memorySource('a.png', encode({ width: 4, height: 3, channels: 1, depth: 16, data })),
      options,
    )
    expect(file.art.depth).toBe(16)
    expect([...(await file.documentPlane(0)).data]).toEqual([...data])
  })

  it('palette with clear colours, resolution and profile (PNG third edition, 11.2.2, 11.3)', async () => {
    const profile = new Uint8Array(200).fill(7)
    const bytes = pngOf(head(4, 1, 2, 3), [
      ['iCCP', Uint8Array.from([0x78, 0, 0, ...deflateSync(profile)])],
      ['PLTE', Uint8Array.from([1, 2, 3, 40, 50, 60, 7, 8, 9, 200, 210, 220])],
      ['tRNS', Uint8Array.from([255, 0, 128])],
      // 11811 a metre is 300 an inch.
      ['pHYs', Uint8Array.from([0, 0, 46, 35, 0, 0, 46, 35, 1])],
      ['IDAT', deflateSync(Uint8Array.from([0, 0b00_01_10_11]))],
    ])
    const file = await openPng(memorySource('a.png', bytes), options)
    expect(file.art.colorMode).toBe('Indexed')
    expect(file.art.resolutionPpi).toBeCloseTo(300, 2)
    expect(file.art.profile!.bytes).toEqual(profile)
    expect([...(await file.documentPlane(0)).data]).toEqual([0, 1, 2, 3])
    expect([...(await file.documentPlane(1)).data]).toEqual([255, 0, 128, 255])
    expect([file.art.palette![1], file.art.palette![257], file.art.palette![513]]).toEqual([40, 50, 60])
  })

  it('one bit, and four bits of grey', async () => {
    const bit = pngOf(head(9, 2, 1, 0), [
      ['IDAT', deflateSync(Uint8Array.from([0, 0b10110000, 128, 0, 1, 0]))],
    ])
    const one = await openPng(memorySource('a.png', bit), options)
    expect([one.art.colorMode, one.art.depth]).toEqual(['Bitmap', 1])
    expect([...(await one.documentPlane(0)).data.slice(0, 9)]).toEqual([255, 0, 255, 255, 0, 0, 0, 0, 255])
    const grey = pngOf(head(3, 1, 4, 0), [['IDAT', deflateSync(Uint8Array.from([0, 0x0f, 0x80]))]])
    expect([...(await (await openPng(memorySource('a.png', grey), options)).documentPlane(0)).data]).toEqual([
      0, 255, 136,
    ])
  })

  it('is refused where it is too large or cut', async () => {
    const large = pngOf([0, 0, 255, 255, 0, 0, 255, 255, 8, 2, 0, 0, 0], [['IDAT', new Uint8Array(3)]])
    await expect(openPng(memorySource('a.png', large), options)).rejects.toMatchObject({ name: 'BadInput' })
    const data = new Uint8Array(75)
    const bytes = encode({ width: 5, height: 5, channels: 3, data })
    for (const length of [0, 4, 20, 40, bytes.length - 20])
      await expect(openPng(memorySource('a.png', bytes.slice(0, length)), options)).rejects.toMatchObject({
        name: 'BadInput',
      })
  })
})

describe.skipIf(!hasTool('convert', '-version'))('a JPEG as art, as ImageMagick writes and reads it', () => {
  const made = (args: readonly string[], raw: string) => {
    const folder = mkdtempSync(join(tmpdir(), 'jpeg-'))
    try {
      const file = join(folder, 'a.jpg')
      execFileSync('convert', [
        ...args,
        '-quality',
        '92',
        '-sampling-factor',
        '1x1',
        '-units',
        'PixelsPerInch',
        '-density',
        '240',
        file,
      ])
      execFileSync('convert', [file, '-depth', '8', `${raw}:${join(folder, 'a.raw')}`])
      return {
        bytes: new Uint8Array(readFileSync(file)),
        seen: new Uint8Array(readFileSync(join(folder, 'a.raw'))),
      }
    } finally {
      rmSync(folder, { recursive: true })
    }
  }

  it.each([
    ['RGB', ['-size', '40x30', 'gradient:red-blue'], 'rgb', 3, 'RGB'],
    ['grey', ['-size', '40x30', 'gradient:white-black', '-colorspace', 'Gray'], 'gray', 1, 'Grayscale'],
    [
      'CMYK the right way round',
      ['-size', '40x30', 'gradient:cyan-yellow', '-colorspace', 'CMYK'],
      'cmyk',
      4,
      'CMYK',
    ],
    ['progressive', ['-size', '40x30', 'gradient:red-blue', '-interlace', 'JPEG'], 'rgb', 3, 'RGB'],
  ] as const)('%s', async (_, args, raw, samples, mode) => {
    const { bytes, seen } = made(args, raw)
    const file = await openJpeg(memorySource('a.jpg', bytes), options)
    expect([file.art.colorMode, file.art.width, file.art.height]).toEqual([mode, 40, 30])
    // A JFIF segment goes with grey and RGB alone.
    if (mode !== 'CMYK') expect(file.art.resolutionPpi).toBeCloseTo(240, 1)
    for (let s = 0; s < samples; s++) {
      const { data } = await file.documentPlane(s)
      // Two decoders round the inverse transform in their own ways; ImageMagick's CMYK is 0 = none.
      const off = [...data].map((value, i) =>
        Math.abs((mode === 'CMYK' ? 255 - value : value) - seen[i * samples + s]!),
      )
      expect(Math.max(...off)).toBeLessThanOrEqual(2)
    }
  })

  it('cut anywhere it is read or refused with a reason', async () => {
    const { bytes } = made(['-size', '40x30', 'gradient:red-blue'], 'rgb')
    for (let length = 0; length < 700; length += 37)
      await openJpeg(memorySource('a.jpg', bytes.slice(0, length)), options).catch(error => {
        expect(error).toMatchObject({ name: 'BadInput' })
      })
  })
})

describe('names of plates', () => {
  it.each([
    [
      ['Carton_Cyan.tif', 'Carton_Holo foil.tif', 'Carton_White.tif'],
      ['Cyan', 'Holo foil', 'White'],
    ],
    [
      ['chart (Cyan).tif', 'chart (White).tif'],
      ['Cyan', 'White'],
    ],
    [
      ['chart[K].png', 'chart[Foil].png'],
      ['K', 'Foil'],
    ],
    [
      ['c.tif', 'm.tif', 'y.tif', 'k.tif'],
      ['c', 'm', 'y', 'k'],
    ],
    [
      ['cyan-300.tif', 'magenta-300.tif'],
      ['cyan', 'magenta'],
    ],
    [
      ['lid.black.tif', 'lid.blue_2.tif'],
      ['black', 'blue 2'],
    ],
    [['Halden_lid_White.tif'], ['White']],
  ])('%j', (files, names) => {
    expect(plateNames(files)).toEqual(names)
  })
})

describe('a folder of plates', () => {
  const plate: TiffWish = {
    width: 6,
    height: 4,
    samples: 1,
    bits: 8,
    photometric: 1,
    value: (x, y) => 20 * x + y,
  }
  const tiff = (name: string, own: Partial<TiffWish> = {}) =>
    openTiff(memorySource(name, tiffBytes([{ ...plate, ...own }])), options)

  it('process plates are the flat layer, others channels; what is missing is said', async () => {
    const file = platesAsArt([
      await tiff('lid_Cyan.tif'),
      await tiff('lid_White.tif', { photometric: 0 }),
      await tiff('lid_k.tif', { bits: 16, value: x => 1000 * x }),
      await tiff('lid_Holo.tif', { bits: 1, value: x => x % 2 }),
    ])
    const { art } = file
    expect([art.format, art.colorMode, art.depth, art.name]).toEqual(['plates', 'CMYK', 16, 'lid_Cyan.tif'])
    expect(art.channels.map(c => [c.name, c.plane])).toEqual([
      ['White', 4],
      ['Holo', 5],
    ])
    expect(art.findings.find(f => f.code === 'ink-missing')!.message).toMatch(/magenta, yellow/)
    const at = async (plane: number) => (await file.documentPlane(plane)).data[3]
    expect(await Promise.all([0, 1, 2, 3, 4, 5].map(at))).toEqual([
      60 * 257,
      65_535,
      65_535,
      3000,
      (255 - 60) * 257,
      65_535,
    ])
  })

  it('refuses sizes that differ, inks that come twice, and pictures that are no plates', async () => {
    const cyan = await tiff('lid_cyan.tif')
    expect(() => platesAsArt([cyan, cyan])).toThrow(/both the plate/)
    const wide = await tiff('lid_black.tif', { width: 7 })
    expect(() => platesAsArt([cyan, wide])).toThrow(/7 × 4 pixels, "lid_cyan.tif" has 6 × 4/)
    const rgb = await tiff('lid_black.tif', { photometric: 2, samples: 3 })
    expect(() => platesAsArt([cyan, rgb])).toThrow(/one grey picture/)
  })

  it.skipIf(!hasTool('gs', '--version'))(
    'plates that a separation renderer writes are one piece of art',
    async () => {
      const folder = mkdtempSync(join(tmpdir(), 'plates-'))
      try {
        const ps =
          '%!\n<< /PageSize [72 72] >> setpagedevice\n[/Separation /Holo /DeviceCMYK {0 0 0 4 -1 roll}] setcolorspace 1 setcolor 10 10 30 30 rectfill\n1 0 0 0 setcmykcolor 40 40 20 20 rectfill showpage\n'
        writeFileSync(join(folder, 'a.ps'), ps)
        execFileSync('gs', [
          '-q',
          '-dNOPAUSE',
          '-dBATCH',
          '-dSAFER',
          '-sDEVICE=tiffsep',
          '-r72',
          `-sOutputFile=${join(folder, 'a.tif')}`,
          join(folder, 'a.ps'),
        ])
        const open = (name: string) =>
          openTiff(memorySource(name, new Uint8Array(readFileSync(join(folder, name)))), options)
        const file = platesAsArt(
          await Promise.all(['Cyan', 'Magenta', 'Yellow', 'Black', 'Holo'].map(ink => open(`a(${ink}).tif`))),
        )
        expect(file.art.channels.map(c => c.name)).toEqual(['Holo'])
        const at = async (plane: number, x: number, y: number) =>
          (await file.documentPlane(plane)).data[(71 - y) * 72 + x]
        expect([await at(4, 20, 20), await at(4, 50, 50), await at(0, 50, 50), await at(0, 20, 20)]).toEqual([
          0, 255, 0, 255,
        ])
      } finally {
        rmSync(folder, { recursive: true })
      }
    },
  )
})
