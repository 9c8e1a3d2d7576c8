import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fromArrayBuffer } from 'geotiff'
import { describe, expect, it } from 'vitest'
import { type ArtFile, processCount } from '../../../core/art/layer.ts'
import { openTiff, tiffPages } from '../../../core/art/tiff.ts'
import { memorySource } from '../../../core/base/source.ts'
import { shippedCodec } from '../../support/pdf-reading.ts'
import { sixInks, type TiffForm, type TiffWish, tiffBytes } from '../../support/tiff-bytes.ts'
import { hasTool } from '../../support/tools.ts'

const memoryBudget = 64 * 2 ** 20

const open = (bytes: Uint8Array, page?: number): Promise<ArtFile> =>
  openTiff(memorySource('art.tif', bytes), { memoryBudget, page, codec: shippedCodec })

/** All planes of a file, by number. */
async function planesOf(file: ArtFile): Promise<(Uint8Array | Uint16Array | Float32Array)[]> {
  const count = processCount(file.art.colorMode) + file.art.channels.length
  const planes = []
  for (let i = 0; i < count; i++) planes.push((await file.documentPlane(i)).data)
  return planes
}

/** Samples of a file as an independent reader has them, one array a sample. */
async function asGeotiff(bytes: Uint8Array): Promise<ArrayLike<number>[]> {
  const image = await (await fromArrayBuffer(Uint8Array.from(bytes).buffer)).getImage()
  return [...((await image.readRasters()) as Iterable<ArrayLike<number>>)]
}

const wide = {
  bits: 16,
  value: (x: number, y: number, s: number) => (x * 1777 + y * 613 + s * 9973) & 0xffff,
}

const forms: readonly (readonly [string, Partial<TiffWish>, TiffForm])[] = [
  ['one strip', {}, {}],
  ['strips of 8 rows', { rowsPerStrip: 8 }, {}],
  ['tiles', { tile: 16 }, {}],
  ['planar', { planar: true, rowsPerStrip: 5 }, {}],
  ['planar tiles, zipped', { planar: true, tile: 16, compression: 8 }, {}],
  ['zipped with differences', { compression: 8, predictor: true, rowsPerStrip: 10 }, {}],
  ['runs', { compression: 32773, rowsPerStrip: 10 }, {}],
  ['16 bits', wide, {}],
  // One strip: geotiff 3.0.5 reads lists of strips lowest byte first in any file.
  ['16 bits, highest byte first', wide, { bigEndian: true }],
  ['16 bits, tiles, zipped', { ...wide, tile: 16, compression: 8 }, {}],
  ['BigTIFF', { rowsPerStrip: 8 }, { big: true }],
]

describe('a TIFF of six inks', () => {
  it.each(forms)(
    '%s: every plane is that of an independent reader, turned to no ink = most',
    async (_, own, form) => {
      const bytes = tiffBytes([{ ...sixInks, ...own }], form)
      const file = await open(bytes)
      expect(file.art.colorMode).toBe('CMYK')
      expect(file.art.channels.map(c => [c.name, c.kind])).toEqual([
        ['White', 'spot'],
        ['Holo foil', 'spot'],
      ])
      const most = own.bits === 16 ? 65_535 : 255
      const seen = await asGeotiff(bytes)
      const planes = await planesOf(file)
      expect(planes.length).toBe(6)
      planes.forEach((plane, i) => {
        expect([...plane]).toEqual(Array.from(seen[i]!, value => most - value))
      })
    },
  )

  // geotiff 3.0.5 sums differences in the machine's byte order, so the numbers of this form are known from the writer alone.
  it('16 bits, highest byte first, zipped with differences', async () => {
    const wish = { ...sixInks, ...wide, compression: 8 as const, predictor: true }
    const planes = await planesOf(await open(tiffBytes([wish], { bigEndian: true })))
    planes.forEach((plane, s) => {
      expect(plane[5 * 37 + 11]).toBe(65_535 - wish.value(11, 5, s))
      expect(plane[28 * 37 + 36]).toBe(65_535 - wish.value(36, 28, s))
    })
  })

  it('gives rows of any stretch', async () => {
    const file = await open(tiffBytes([{ ...sixInks, rowsPerStrip: 8 }]))
    const whole = await file.documentPlane(5)
    const part = await file.documentPlane(5, { top: 6, bottom: 19 })
    expect(part.box).toEqual({ left: 0, right: 37, top: 6, bottom: 19 })
    expect([...part.data]).toEqual([...whole.data.subarray(6 * 37, 19 * 37)])
  })

  it('reads process inks in any order, and says which are missing', async () => {
    const names = 'White\0Black\0Cyan\0'
    const file = await open(
      tiffBytes([
        {
          ...sixInks,
          samples: 3,
          fields: [
            [332, 3, [2]],
            [333, 2, names],
          ],
        },
      ]),
    )
    expect(file.art.colorMode).toBe('CMYK')
    expect(file.art.findings.map(f => f.code)).toContain('ink-missing')
    const planes = await planesOf(file)
    expect(planes.map(p => p[3])).toEqual([255 - 103, 255, 255, 255 - 62, 255 - 21])
  })

  it('inks without any process ink are channels of their own', async () => {
    const file = await open(
      tiffBytes([
        {
          ...sixInks,
          samples: 2,
          fields: [
            [332, 3, [2]],
            [333, 2, 'White\0Holo\0'],
          ],
        },
      ]),
    )
    expect(file.art.colorMode).toBe('Multichannel')
    expect(file.art.layers).toEqual([])
    expect(file.art.channels.map(c => c.name)).toEqual(['White', 'Holo'])
  })

  it('names behind four inks that go without saying are those of the others', async () => {
    const file = await open(
      tiffBytes([
        {
          ...sixInks,
          fields: [
            [333, 2, 'White\0Holo\0'],
            [338, 3, [0, 0]],
          ],
        },
      ]),
    )
    expect(file.art.colorMode).toBe('CMYK')
    expect(file.art.channels.map(c => c.name)).toEqual(['White', 'Holo'])
  })

  it('no names: the inks are numbered, and that is said', async () => {
    const file = await open(tiffBytes([{ ...sixInks, fields: [[338, 3, [0, 0]]] }]))
    expect(file.art.channels.map(c => [c.name, c.kind])).toEqual([
      ['Channel 5', 'spot'],
      ['Channel 6', 'spot'],
    ])
    expect(file.art.findings.filter(f => f.code === 'ink-unnamed').length).toBe(2)
  })

  it('a dot range says what no ink and the solid are (TIFF 6.0, section 16)', async () => {
    const file = await open(
      tiffBytes([
        { ...sixInks, samples: 4, value: x => [20, 120, 220, 255][x % 4]!, fields: [[336, 3, [20, 220]]] },
      ]),
    )
    const plane = (await file.documentPlane(0)).data
    expect([...plane.subarray(0, 4)]).toEqual([255, 128, 0, 0])
  })
})

describe('TIFFs of other colours', () => {
  const grey: TiffWish = { ...sixInks, samples: 1, photometric: 1, fields: [] }
  const firstRow = async (wish: TiffWish, plane = 0) =>
    [...(await (await open(tiffBytes([wish]))).documentPlane(plane, { top: 0, bottom: 1 })).data].slice(0, 4)

  it('grey, black or white first', async () => {
    expect(await firstRow(grey)).toEqual([0, 7, 14, 21])
    expect(await firstRow({ ...grey, photometric: 0 })).toEqual([255, 248, 241, 234])
  })

  it('one bit, either way, and with its bits turned', async () => {
    const bit: TiffWish = { ...grey, bits: 1, photometric: 0, value: x => (x % 3 === 0 ? 1 : 0) }
    const file = await open(tiffBytes([bit]))
    expect([file.art.colorMode, file.art.depth]).toEqual(['Bitmap', 1])
    expect(await firstRow(bit)).toEqual([0, 255, 255, 0])
    expect(await firstRow({ ...bit, photometric: 1 })).toEqual([255, 0, 0, 255])
    const turned = await firstRow({ ...bit, value: x => (x === 0 ? 1 : 0), fields: [[266, 3, [2]]] })
    expect(turned).toEqual([255, 255, 255, 255])
  })

  it('RGB, its alpha multiplied in or not (TIFF 6.0, section 18)', async () => {
    const value = (_x: number, _y: number, s: number) => [60, 30, 100, 120][s]!
    const rgba: TiffWish = { ...grey, photometric: 2, samples: 4, value, fields: [[338, 3, [2]]] }
    expect(await firstRow(rgba, 0)).toEqual([60, 60, 60, 60])
    const file = await open(tiffBytes([{ ...rgba, fields: [[338, 3, [1]]] }]))
    expect(file.art.channels.map(c => c.kind)).toEqual(['transparency'])
    expect(file.art.layers[0]!.channelIds).toEqual([0, 1, 2, -1])
    // 60 / 120, 30 / 120 and 100 / 120 of 255.
    expect((await planesOf(file)).map(p => p[0])).toEqual([128, 64, 213, 120])
  })

  it('palette', async () => {
    const map = Array.from({ length: 768 }, (_, i) => ((i * 5) & 255) * 257)
    const file = await open(tiffBytes([{ ...grey, photometric: 3, fields: [[320, 3, map]] }]))
    expect(file.art.colorMode).toBe('Indexed')
    expect([...file.art.palette!.subarray(0, 3), file.art.palette![256]]).toEqual([0, 5, 10, 0])
  })

  it('Lab with signs and without (TIFF 6.0, section 23; ICC)', async () => {
    const value = (_x: number, _y: number, s: number) => [128, 0xf6, 10][s]!
    const lab: TiffWish = { ...grey, photometric: 8, samples: 3, value }
    expect(await Promise.all([0, 1, 2].map(async i => (await firstRow(lab, i))[0]))).toEqual([128, 118, 138])
    expect((await firstRow({ ...lab, photometric: 9 }, 1))[0]).toBe(0xf6)
  })

  it.each([
    [2, 'mirrored', (x: number, y: number) => [36 - x, y]],
    [3, 'half turned', (x: number, y: number) => [36 - x, 28 - y]],
    [4, 'upside down', (x: number, y: number) => [x, 28 - y]],
  ] as const)('orientation %i is shown %s', async (orientation, _, from) => {
    const wish: TiffWish = { ...grey, rowsPerStrip: 8, fields: [[274, 3, [orientation]]] }
    const { data } = await (await open(tiffBytes([wish]))).documentPlane(0, { top: 3, bottom: 9 })
    for (const [x, y] of [
      [0, 3],
      [17, 5],
      [36, 8],
    ] as const) {
      const [fx, fy] = from(x, y)
      expect(data[(y - 3) * 37 + x]).toBe(wish.value(fx!, fy!, 0))
    }
  })

  it('channels get names, inks and solidity from image resources', async () => {
    const resource = (id: number, body: readonly number[]) => [
      ...[0x38, 0x42, 0x49, 0x4d, id >> 8, id & 255, 0, 0, 0, 0, 0, body.length],
      ...body,
      ...(body.length % 2 ? [0] : []),
    ]
    const name = [...'Holo'].flatMap(c => [0, c.charCodeAt(0)])
    const bytes = Uint8Array.from([
      ...resource(1045, [0, 0, 0, 5, ...name, 0, 0]),
      // CMYK 0, 0, 0, 40 %, solidity 80, a spot.
      ...resource(1077, [0, 0, 0, 1, 0, 2, 255, 255, 255, 255, 255, 255, 153, 153, 0, 80, 2]),
    ])
    const file = await open(
      tiffBytes([
        {
          ...sixInks,
          samples: 5,
          fields: [
            [338, 3, [0]],
            [34_377, 7, bytes],
          ],
        },
      ]),
    )
    const [channel] = file.art.channels
    expect([channel!.name, channel!.kind, channel!.opacity, channel!.ink?.space]).toEqual([
      'Holo',
      'spot',
      0.8,
      'CMYK',
    ])
    expect(channel!.ink!.values[3]).toBeCloseTo(0.4, 4)
  })

  it('resolution in inches, centimetres, none', async () => {
    const ppi = async (fields: NonNullable<TiffWish['fields']>) =>
      (await open(tiffBytes([{ ...grey, fields }]))).art.resolutionPpi
    expect(await ppi([])).toBe(300)
    expect(
      await ppi([
        [296, 3, [3]],
        [282, 5, [100, 1]],
        [283, 5, [100, 1]],
      ]),
    ).toBeCloseTo(254, 9)
    expect(await ppi([[296, 3, [1]]])).toBeNull()
  })

  it('pages are chosen; smaller copies are none', async () => {
    const small: TiffWish = { ...grey, width: 5, height: 4, fields: [[254, 4, [1]]] }
    const bytes = tiffBytes([grey, small, { ...grey, width: 11 }])
    expect(await tiffPages(memorySource('a.tif', bytes))).toEqual([
      { width: 37, height: 29 },
      { width: 11, height: 29 },
    ])
    expect((await open(bytes)).art.findings.map(f => f.code)).toContain('first-page')
    const second = (await open(bytes, 2)).art
    expect([second.width, second.page?.number, second.page?.count]).toEqual([11, 2, 2])
    await expect(open(bytes, 3)).rejects.toMatchObject({ code: 'page-missing' })
  })
})

describe.skipIf(!hasTool('vips', '--version'))('TIFFs that libvips writes of ours', () => {
  it.each([
    ['compression=lzw,predictor=horizontal', 8],
    ['compression=lzw,tile,tile-width=16,tile-height=16', 8],
    ['compression=lzw,predictor=horizontal,bigtiff', 16],
    ['compression=deflate,predictor=horizontal,tile,tile-width=16,tile-height=16', 16],
    ['compression=packbits', 8],
  ] as const)('%s, %i bits', async (form, bits) => {
    const folder = mkdtempSync(join(tmpdir(), 'tiff-'))
    try {
      const wish = { ...sixInks, ...(bits === 16 ? wide : {}), samples: 4, fields: [[332, 3, [1]]] as const }
      writeFileSync(join(folder, 'in.tif'), tiffBytes([wish]))
      execFileSync('vips', ['copy', join(folder, 'in.tif'), join(folder, `out.tif[${form}]`)])
      const planes = await planesOf(await open(new Uint8Array(readFileSync(join(folder, 'out.tif')))))
      expect(planes).toEqual(await planesOf(await open(tiffBytes([wish]))))
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it.skipIf(!hasTool('convert', '-version')).each([
    ['Group4', ''],
    ['Fax', ''],
    ['Group4', 'lsb'],
  ])('plates of one bit, packed by ImageMagick as %s %s', async (packing, order) => {
    const folder = mkdtempSync(join(tmpdir(), 'tiff-'))
    try {
      // Bars and dots, 67 × 41: rows that end inside a byte.
      const value = (x: number, y: number) => (x % 7 < 2 || (x * y) % 11 === 3 ? 1 : 0)
      const wish: TiffWish = {
        ...sixInks,
        width: 67,
        height: 41,
        samples: 1,
        bits: 1,
        photometric: 0,
        value,
        fields: [],
      }
      writeFileSync(join(folder, 'in.tif'), tiffBytes([wish]))
      const args = order === '' ? [] : ['-define', `tiff:fill-order=${order}`]
      execFileSync('convert', [
        join(folder, 'in.tif'),
        ...args,
        '-compress',
        packing,
        join(folder, 'out.tif'),
      ])
      const file = await open(new Uint8Array(readFileSync(join(folder, 'out.tif'))))
      expect(file.art.colorMode).toBe('Bitmap')
      expect([...(await file.documentPlane(0)).data]).toEqual([
        ...(await (await open(tiffBytes([wish]))).documentPlane(0)).data,
      ])
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it('JPEG tiles: as libvips itself reads them', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'tiff-'))
    try {
      const smooth = (x: number, y: number, s: number) => (2 * x + 3 * y + 40 * s) & 255
      const wish: TiffWish = { ...sixInks, photometric: 2, samples: 3, value: smooth, fields: [] }
      writeFileSync(join(folder, 'in.tif'), tiffBytes([wish]))
      const out = join(folder, 'out.tif')
      execFileSync('vips', [
        'copy',
        join(folder, 'in.tif'),
        `${out}[compression=jpeg,Q=95,tile,tile-width=16,tile-height=16]`,
      ])
      execFileSync('vips', ['rawsave', out, join(folder, 'out.raw')])
      const seen = readFileSync(join(folder, 'out.raw'))
      const planes = await planesOf(await open(new Uint8Array(readFileSync(out))))
      // Chroma is spread over four pixels by each reader in its own way.
      const off = planes.flatMap((plane, s) =>
        [...plane].map((value, i) => Math.abs(value - seen[3 * i + s]!)),
      )
      expect(Math.max(...off)).toBeLessThanOrEqual(6)
      expect(off.reduce((a, b) => a + b) / off.length).toBeLessThan(1)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})

describe('a TIFF that lies', () => {
  const strips: TiffWish = { ...sixInks, rowsPerStrip: 8 }
  const lie = (wish: Partial<TiffWish>) => open(tiffBytes([{ ...strips, ...wish }]))
  const field = (...own: NonNullable<TiffWish['fields']>) => lie({ fields: [...sixInks.fields!, ...own] })

  it.each([
    [
      'fewer strips than its rows take',
      () => field([273, 4, [8, 9]]),
      'tiff-blocks',
      /takes? 4 strips, but it lists 2/,
    ],
    ['lengths of fewer strips', () => field([279, 4, [8, 9]]), 'tiff-blocks', /lengths of 2/],
    [
      'strips that end behind the file',
      () => field([273, 4, [8, 9, 10, 4e9]]),
      'cut-short',
      /strip 4, byte 4000000000/,
    ],
    [
      'strips too short for their samples',
      () => field([279, 4, [10, 10, 10, 10]]),
      'tiff-blocks',
      /1776 bytes of samples cannot come from 10/,
    ],
    ['no lengths of packed strips', () => lie({ compression: 8, without: [279] }), 'tiff-blocks', /how long/],
    ['no width', () => lie({ without: [256] }), 'size', /width/],
    ['no pixels', () => field([257, 4, [0]]), 'size', /height/],
    ['a size beyond all art', () => field([256, 4, [4e9]]), 'size', /4000000000/],
    ['400 inks', () => field([277, 3, [400]]), 'channel-count', /got 400/],
    ['samples of different depths', () => field([258, 3, [8, 8, 8, 8, 8, 16]]), 'depth', /bits/],
    ['numbers with a point', () => field([339, 3, [3]]), 'depth', /whole/],
    ['no colours', () => lie({ without: [262] }), 'color-mode', /what its colours are/],
    ['a packing that is not read', () => field([259, 3, [34_712]]), 'compression', /JPEG 2000/],
    ['a picture on its side', () => field([274, 3, [6]]), 'orientation', /side/],
    ['tiles of no size', () => lie({ tile: 16, fields: [[322, 4, [0]]] }), 'damaged', /cannot be/],
    ['RGB of two samples', () => lie({ photometric: 2, samples: 2, fields: [] }), 'channel-count', /takes 3/],
  ] as const)('%s', async (_, made, code, message) => {
    await expect(made()).rejects.toMatchObject({
      name: 'BadInput',
      code,
      message: expect.stringMatching(message),
    })
  })

  it('directories in a circle', async () => {
    const bytes = tiffBytes([strips])
    const view = new DataView(bytes.buffer)
    const at = view.getUint32(4, true)
    view.setUint32(at + 2 + 12 * view.getUint16(at, true), at, true)
    await expect(open(bytes)).rejects.toMatchObject({ message: expect.stringMatching(/circle/) })
  })

  it('values behind the end', async () => {
    const bytes = tiffBytes([strips])
    const view = new DataView(bytes.buffer)
    const at = view.getUint32(4, true)
    for (let i = 0; i < view.getUint16(at, true); i++)
      if (view.getUint16(at + 2 + 12 * i, true) === 333)
        view.setUint32(at + 10 + 12 * i, bytes.length - 3, true)
    await expect(open(bytes)).rejects.toMatchObject({
      code: 'cut-short',
      message: expect.stringMatching(/field 333/),
    })
  })

  it('a directory behind the end', async () => {
    const bytes = tiffBytes([strips])
    new DataView(bytes.buffer).setUint32(4, 1e9, true)
    await expect(open(bytes)).rejects.toMatchObject({ code: 'cut-short' })
  })

  it('zipped strips that unpack to less, or to nothing', async () => {
    const file = await field([259, 3, [8]])
    await expect(file.documentPlane(0)).rejects.toMatchObject({
      name: 'BadInput',
      where: expect.stringMatching(/strip 1/),
    })
  })

  it('a strip above the memory budget', async () => {
    const bytes = tiffBytes([{ ...sixInks, compression: 8 }])
    const file = await openTiff(memorySource('a.tif', bytes), { memoryBudget: 2000 })
    await expect(file.documentPlane(0)).rejects.toMatchObject({ code: 'too-large' })
  })
})

describe('TIFFs of others', () => {
  const folder = new URL('../../fixtures/art/', import.meta.url)
  it.each(['contig-08', 'planar-16'])('flower-separated-%s is that of an independent reader', async form => {
    const bytes = new Uint8Array(
      readFileSync(new URL(`TwelveMonkeys__depth_flower-separated-${form}.tif`, folder)),
    )
    const file = await open(bytes)
    const planes = await planesOf(file)
    const seen = await asGeotiff(bytes)
    const most = form === 'planar-16' ? 65_535 : 255
    expect([file.art.width, file.art.height, planes.length]).toEqual([73, 43, 4])
    planes.forEach((plane, i) => {
      expect([...plane]).toEqual(Array.from(seen[i]!, value => most - value))
    })
  })
})
