import { writePsdUint8Array } from 'ag-psd'
import { describe, expect, it } from 'vitest'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { writePsd } from '../../support/psd-write.ts'
import { openFixture } from './files.ts'
import './second-reader.ts'

const flat = (n: number) => new Uint8Array(n).fill(255)

describe('outlines in millimetres', () => {
  // A square of 10 mm whose lower left corner lies 5 mm from the left and 2 mm from the bottom of a 40 × 20 mm sheet.
  const square = [
    [5, 2],
    [15, 2],
    [15, 12],
    [5, 12],
  ] as const
  const paths = [
    {
      closed: true,
      continues: false,
      combine: 'unite' as const,
      knots: square.map(p => ({ in: p, at: p, out: p })),
    },
  ]

  it('come back where they were put; names and the clipping path too', async () => {
    const bytes = writePsd({
      width: 400,
      height: 200,
      mode: 'Grayscale',
      depth: 8,
      ppi: 254,
      composite: [flat(400 * 200)],
      paths: [
        { name: 'Knife', clipping: false, paths },
        { name: 'Cut-out', clipping: true, paths },
      ],
    })
    const { art } = await readArt(memorySource('made.psd', bytes))
    expect(art.paths.map(p => [p.name, p.clipping])).toEqual([
      ['Knife', false],
      ['Cut-out', true],
    ])
    for (const [i, [x, y]] of square.entries()) {
      const [ax, ay] = art.paths[0]!.paths[0]!.knots[i]!.at
      // 8.24 fixed point of the sheet's 40 mm.
      expect(Math.abs(ax - x)).toBeLessThan(40 / 2 ** 24)
      expect(Math.abs(ay - y)).toBeLessThan(40 / 2 ** 24)
    }
  })

  it('of a real file keep a name that is not ASCII', async () => {
    const { art } = await openFixture('psd-tools__unicode_pathname.psd')
    expect(art.paths.map(p => p.name)).toEqual(['ユニコード'])
    expect(art.paths[0]!.paths[0]!.knots.length).toBeGreaterThan(2)
  })
})

describe('embedded profile', () => {
  // Names as profile viewers show them.
  it.each([
    ['psd__testdata_cmyk8bit.psd', 'Japan Color 2001 Coated'],
    ['ag-psd__test_read_16bits_src.psd', 'sRGB IEC61966-2.1'],
  ])('%s has "%s"', async (name, profile) => {
    const { art } = await openFixture(name)
    expect(art.profile?.name).toBe(profile)
    // ICC.1:2022, 7.2: size in the first four bytes, signature at 36.
    const view = new DataView(art.profile!.bytes.buffer)
    expect(view.getUint32(0)).toBe(art.profile!.bytes.length)
    expect(String.fromCharCode(...art.profile!.bytes.subarray(36, 40))).toBe('acsp')
  })
})

/** Files written by ag-psd. */
describe('text', () => {
  const made = (shape: 'box' | 'point') =>
    writePsdUint8Array({
      width: 600,
      height: 400,
      imageResources: {
        resolutionInfo: {
          horizontalResolution: 254,
          horizontalResolutionUnit: 'PPI',
          widthUnit: 'Inches',
          verticalResolution: 254,
          verticalResolutionUnit: 'PPI',
          heightUnit: 'Inches',
        },
      },
      children: [
        {
          name: 'label',
          left: 110,
          top: 60,
          imageData: { width: 50, height: 20, data: new Uint8ClampedArray(50 * 20 * 4).fill(255) },
          text: {
            text: 'Comet eyepiece\n12 mm',
            transform: [2, 0, 0, 2, 100, 50],
            ...(shape === 'box' ? { shapeType: 'box' as const, boxBounds: [0, 0, 150, 40] } : {}),
            style: { font: { name: 'ArialMT' }, fontSize: 12 },
          },
        },
      ],
    })

  it('is kept as text; a frame is taken through its transform into mm', async () => {
    const { art } = await readArt(memorySource('made.psd', made('box')))
    const [layer] = art.layers
    expect(layer!.kind).toBe('text')
    expect(layer!.text!.value).toBe('Comet eyepiece\n12 mm')
    // 254 ppi: 10 pixels a millimetre. x 100..400, y 50..130 pixels from the top of 400.
    expect(layer!.text!.boxMm!.map(v => Math.round(v * 1e9) / 1e9)).toEqual([10, 27, 40, 35])
  })

  it('without a frame has the box of its pixels', async () => {
    const { art } = await readArt(memorySource('made.psd', made('point')))
    expect(art.layers[0]!.text!.boxMm!.map(v => Math.round(v * 1e9) / 1e9)).toEqual([11, 32, 16, 34])
  })
})
