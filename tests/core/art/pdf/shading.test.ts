import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Matrix } from '../../../../core/art/ink/mark.ts'
import { openShading } from '../../../../core/art/pdf/shading.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { readingOf } from '../../../support/pdf-reading.ts'
import { onePage, type PdfText } from '../../../support/pdf-write.ts'
import { hasTiffsep, tiffsep } from '../../../support/tiffsep.ts'

const white =
  '[/Separation /White /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 0.1] /N 1 >>]'
const linear = '<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >>'
const cmyk = '<< /FunctionType 2 /Domain [0 1] /C0 [1 0 0 0.1] /C1 [0 1 0.5 0.3] /N 1 >>'

async function opened(
  write: (pdf: PdfText) => string,
  matrix: Matrix = [1, 0, 0, 1, 0, 0],
  asPattern = false,
) {
  const reading = await readingOf(pdf => `/S ${write(pdf)}`)
  const { field, box } = openShading(reading, reading.object('S'), matrix, asPattern, reading.resources)
  const at = (x: number, y: number, size = 0.001) => {
    const out = field.inks.map(() => new Float32Array(1))
    const shape = new Float32Array(1)
    field.row(x, y, size, 1, out, shape)
    const round = (value: number) => Math.round(value * 1000) / 1000
    return { inks: out.map(plane => round(plane[0]!)), shape: round(shape[0]!) }
  }
  return { reading, field, box, at, names: field.inks.map(ink => reading.inks.list[ink]!.name) }
}

describe('a shading along a line', () => {
  const axial = (more: string) => () =>
    `<< /ShadingType 2 /ColorSpace ${white} /Coords [10 0 20 0] /Function ${linear} ${more} >>`

  it('runs between its ends and is nothing beyond them, unless it is extended', async () => {
    const plain = await opened(axial(''))
    expect(plain.names).toEqual(['White'])
    expect(plain.at(12.5, 99)).toEqual({ inks: [0.25], shape: 1 })
    expect(plain.at(9, 0).shape).toBe(0)
    expect(plain.at(21, 0).shape).toBe(0)
    const on = await opened(axial('/Extend [true true]'))
    expect(on.at(0, 0)).toEqual({ inks: [0], shape: 1 })
    expect(on.at(30, 0)).toEqual({ inks: [1], shape: 1 })
  })

  it('goes by its domain and its matrix', async () => {
    const turned = await opened(axial('/Domain [0.5 1]'), [0, 2, -2, 0, 0, 0])
    expect(turned.at(0, 30)).toEqual({ inks: [0.75], shape: 1 })
  })

  it('keeps a line that is thin beside its length', async () => {
    const flat = (value: number) => `<< /FunctionType 2 /Domain [0 1] /C0 [${value}] /C1 [${value}] /N 1 >>`
    const line = `<< /FunctionType 3 /Domain [0 1] /Functions [${flat(0)} ${flat(1)} ${flat(0)}] /Bounds [0.5005 0.5015] /Encode [0 1 0 1 0 1] >>`
    const { at } = await opened(
      () => `<< /ShadingType 2 /ColorSpace ${white} /Coords [0 0 1000 0] /Function ${line} >>`,
    )
    expect(at(501, 0, 0.1).inks[0]).toBeGreaterThan(0.9)
    expect(at(499, 0, 0.1).inks).toEqual([0])
  })

  it('softens a hard stop over the square that it goes through', async () => {
    const flat = (value: number) => `<< /FunctionType 2 /Domain [0 1] /C0 [${value}] /C1 [${value}] /N 1 >>`
    const step = `<< /FunctionType 3 /Domain [0 1] /Functions [${flat(0)} ${flat(1)}] /Bounds [0.5] /Encode [0 1 0 1] >>`
    const { at } = await opened(
      () => `<< /ShadingType 2 /ColorSpace ${white} /Coords [0 0 10 0] /Function ${step} >>`,
    )
    expect(at(5, 0, 1).inks[0]).toBeCloseTo(0.5, 2)
    expect(at(4.4, 0, 1).inks).toEqual([0])
    expect(at(0, 0, 1)).toEqual({ inks: [0], shape: 0.5 })
  })

  it('without length paints nothing, and as a pattern its ground', async () => {
    const none = () =>
      `<< /ShadingType 2 /ColorSpace ${white} /Coords [5 5 5 5] /Function ${linear} /Background [0.3] /Extend [true true] >>`
    expect((await opened(none)).at(5, 5).shape).toBe(0)
    expect((await opened(none, [1, 0, 0, 1, 0, 0], true)).at(5, 5)).toEqual({ inks: [0.3], shape: 1 })
  })

  it('says where it may paint', async () => {
    const { box } = await opened(axial('/BBox [1 2 3 4]'), [2, 0, 0, 2, 10, 0])
    expect(Array.from(box!.points)).toEqual([12, 4, 16, 4, 16, 8, 12, 8])
  })
})

describe('a shading between circles', () => {
  const radial =
    (coords: string, more = '') =>
    () =>
      `<< /ShadingType 3 /ColorSpace ${white} /Coords [${coords}] /Function ${linear} ${more} >>`

  it('is as far along as the radius', async () => {
    const { at } = await opened(radial('0 0 0 0 0 10'))
    expect(at(2.5, 0)).toEqual({ inks: [0.25], shape: 1 })
    expect(at(3, 4)).toEqual({ inks: [0.5], shape: 1 })
    expect(at(8, 8).shape).toBe(0)
  })

  it('has the last circle through a point, and makes a cone where neither holds the other', async () => {
    const { at } = await opened(radial('0 0 1 10 0 1', '/Extend [false false]'))
    // Through (5, 0) go the circles about 4 and about 6: the later is in front.
    expect(at(5, 0)).toEqual({ inks: [0.6], shape: 1 })
    expect(at(0, 2).shape).toBe(0)
    const cone = await opened(radial('0 0 0 10 0 5', '/Extend [true true]'))
    expect(cone.at(20, 0).shape).toBe(1)
    // Beyond the tip there is nothing.
    expect(cone.at(-1, 0).shape).toBe(0)
  })
})

it('a shading by a function of places fills its domain', async () => {
  const { at } = await opened(
    pdf =>
      `<< /ShadingType 1 /ColorSpace ${white} /Domain [0 2 0 1] /Matrix [10 0 0 10 0 0] /Function ${pdf.stream('/FunctionType 4 /Domain [0 2 0 1] /Range [0 1]', '{ mul }')} >>`,
  )
  expect(at(15, 4)).toEqual({ inks: [0.6], shape: 1 })
  expect(at(21, 4).shape).toBe(0)
})

describe('a mesh', () => {
  const bytes = (...values: number[]) => Uint8Array.from(values)
  const mesh =
    (type: number, data: Uint8Array, more = '') =>
    (pdf: PdfText) =>
      pdf.stream(
        `/ShadingType ${type} /ColorSpace ${white} /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 /Decode [0 255 0 255 0 1] ${more}`,
        data,
      )

  it('of free triangles runs straight between their corners, each joined to the last as its flag says', async () => {
    // (0,0) 0, (100,0) 1, (0,100) 0; then (100,100) 0.2 on the side between the last two.
    const { at } = await opened(mesh(4, bytes(0, 0, 0, 0, 0, 100, 0, 255, 0, 0, 100, 0, 1, 100, 100, 51)))
    expect(at(50, 0.01).inks[0]).toBeCloseTo(0.5, 2)
    expect(at(25, 25).inks[0]).toBeCloseTo(0.25, 2)
    expect(at(75, 75)).toEqual({ inks: [0.35], shape: 1 })
    expect(at(101, 50).shape).toBe(0)
  })

  it('of a lattice has two triangles a cell', async () => {
    const { at } = await opened(
      mesh(5, bytes(0, 0, 0, 100, 0, 255, 0, 100, 0, 100, 100, 255), '/VerticesPerRow 2'),
    )
    expect(at(30, 60).inks[0]).toBeCloseTo(0.3, 2)
    expect(at(80, 90).inks[0]).toBeCloseTo(0.8, 2)
  })

  it('takes a number along a function', async () => {
    const { at, names } = await opened(pdf =>
      pdf.stream(
        `/ShadingType 5 /ColorSpace /DeviceCMYK /Function ${cmyk} /BitsPerCoordinate 8 /BitsPerComponent 8 /VerticesPerRow 2 /Decode [0 255 0 255 0 1]`,
        bytes(0, 0, 0, 100, 0, 255, 0, 100, 0, 100, 100, 255),
      ),
    )
    expect(names).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black'])
    for (const [i, want] of [0.5, 0.5, 0.25, 0.2].entries()) expect(at(50, 50).inks[i]).toBeCloseTo(want, 2)
  })

  /** The square 0..90 with straight edges, thirds along each, from the lower left corner up. */
  const square = [0, 0, 0, 30, 0, 60, 0, 90, 30, 90, 60, 90, 90, 90, 90, 60, 90, 30, 90, 0, 60, 0, 30, 0]

  it('of a patch with straight edges is even both ways, and the next is joined to its edge', async () => {
    // Colours at (0, 0), (0, 90), (90, 90), (90, 0); the second goes on to the right, from the edge that ran down.
    const next = [120, 0, 150, 0, 180, 0, 180, 30, 180, 60, 180, 90, 150, 90, 120, 90]
    const { at } = await opened(mesh(6, bytes(0, ...square, 0, 255, 255, 0, 2, ...next, 51, 51)))
    expect(at(45, 45).inks[0]).toBeCloseTo(0.5, 2)
    expect(at(20, 70).inks[0]).toBeCloseTo(70 / 90, 2)
    // Half way: between 1 above left, 0 below left, and 0.2.
    expect(at(135, 45).inks[0]).toBeCloseTo((0.5 + 0.2) / 2, 2)
  })

  it('of tensors with even points is the same as of their edges', async () => {
    const { at } = await opened(mesh(7, bytes(0, ...square, 30, 30, 30, 60, 60, 60, 60, 30, 0, 255, 255, 0)))
    expect(at(45, 45).inks[0]).toBeCloseTo(0.5, 2)
    expect(at(80, 20).inks[0]).toBeCloseTo(20 / 90, 2)
  })

  it('ends where its data end', async () => {
    const { at } = await opened(mesh(4, bytes(0, 0, 0, 0, 0, 100, 0, 255)))
    expect(at(1, 1).shape).toBe(0)
  })
})

describe('what is no shading', () => {
  it.each([
    ['/None', 'is no shading'],
    [`<< /ShadingType 9 /ColorSpace ${white} >>`, 'not of type 1 to 7'],
    ['<< /ShadingType 2 /Coords [0 0 1 1] >>', 'no colour space'],
    [
      `<< /ShadingType 2 /ColorSpace ${white} /Coords [0 0 1] /Function ${linear} >>`,
      '3 coordinates instead of 4',
    ],
    [
      `<< /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 1 1] /Function ${linear} >>`,
      'makes 1 numbers of 1, not 4 of 1',
    ],
    [
      `<< /ShadingType 3 /ColorSpace ${white} /Coords [0 0 -1 1 1 1] /Function ${linear} >>`,
      'less than no radius',
    ],
    [`<< /ShadingType 2 /ColorSpace /Pattern /Coords [0 0 1 1] /Function ${linear} >>`, 'those of a pattern'],
    [`<< /ShadingType 4 /ColorSpace ${white} >>`, 'has no data'],
  ])('%s is told', async (text, words) => {
    await expect(opened(() => text)).rejects.toThrow(words)
    await expect(opened(() => text)).rejects.toThrow(BadInput)
  })

  it('one without area on the page paints nothing', async () => {
    const { at } = await opened(
      () => `<< /ShadingType 2 /ColorSpace ${white} /Coords [0 0 1 0] /Function ${linear} >>`,
      [0, 0, 0, 0, 5, 5],
    )
    expect(at(5, 5).shape).toBe(0)
  })
})

it('a mesh of anything is amounts of 0 to 1', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(4, 5, 6, 7),
      fc.constantFrom(1, 4, 8, 12, 24, 32),
      fc.uint8Array({ maxLength: 200 }),
      async (type, bits, data) => {
        const { at } = await opened(pdf =>
          pdf.stream(
            `/ShadingType ${type} /ColorSpace ${white} /BitsPerCoordinate ${bits} /BitsPerComponent 8 /BitsPerFlag 8 /VerticesPerRow 2 /Decode [-5 40 3 90 -1 2]`,
            data,
          ),
        )
        for (const y of [3, 20, 77]) {
          const { inks, shape } = at(12, y, 2)
          for (const value of [...inks, shape]) expect(value >= 0 && value <= 1).toBe(true)
        }
      },
    ),
    { numRuns: 150 },
  )
})

describe('against the separation renderer', () => {
  const patch = (pdf: PdfText, type: 6 | 7) => {
    const edge = [
      0, 0, 20, 70, 0, 140, 30, 220, 90, 250, 160, 190, 240, 240, 200, 150, 250, 80, 230, 10, 150, 40, 70, 0,
    ]
    const inner = type === 7 ? [90, 60, 60, 160, 170, 170, 150, 90] : []
    return pdf.stream(
      `/ShadingType ${type} /ColorSpace /DeviceCMYK /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 /Decode [0 50 0 50 0 1 0 1 0 1 0 1]`,
      Uint8Array.from([0, ...edge, ...inner, 255, 0, 0, 0, 0, 255, 0, 30, 0, 0, 255, 60, 80, 80, 80, 0]),
    )
  }
  const shadings: readonly (readonly [string, (pdf: PdfText) => string])[] = [
    [
      'axial',
      () =>
        `<< /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [5 5 45 40] /Function ${cmyk} /Extend [true false] >>`,
    ],
    [
      'radial',
      () => `<< /ShadingType 3 /ColorSpace ${white} /Coords [20 20 4 28 26 22] /Function ${linear} >>`,
    ],
    [
      'cone',
      () =>
        `<< /ShadingType 3 /ColorSpace ${white} /Coords [10 25 2 38 25 9] /Function ${linear} /Extend [true true] >>`,
    ],
    [
      'function',
      pdf =>
        `<< /ShadingType 1 /ColorSpace ${white} /Matrix [50 0 0 50 0 0] /Function ${pdf.stream('/FunctionType 4 /Domain [0 1 0 1] /Range [0 1]', '{ 2 copy mul 3 1 roll add 2 div add 2 div }')} >>`,
    ],
    [
      'triangles',
      pdf =>
        pdf.stream(
          '/ShadingType 4 /ColorSpace /DeviceCMYK /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 /Decode [0 50 0 50 0 1 0 1 0 1 0 1]',
          Uint8Array.from([
            0, 0, 0, 255, 0, 0, 0, 0, 255, 0, 0, 255, 0, 0, 0, 0, 255, 0, 0, 255, 50, 1, 240, 250, 50, 50, 50,
            200,
          ]),
        ),
    ],
    ['Coons', pdf => patch(pdf, 6)],
    ['tensor', pdf => patch(pdf, 7)],
  ]

  it.skipIf(!hasTiffsep)('planes agree (gs)', async () => {
    const ppi = 144
    const cell = (i: number) => [(i % 4) * 50, Math.floor(i / 4) * 50] as const
    const page = onePage(pdf => ({
      page: '/MediaBox [0 0 200 100]',
      resources: `/Shading << ${shadings.map(([, write], i) => `/S${i} ${write(pdf)}`).join(' ')} >>`,
      content: shadings
        .map((_, i) => `q 1 0 0 1 ${cell(i).join(' ')} cm 0 0 50 50 re W n /S${i} sh Q`)
        .join('\n'),
    }))
    const { width, height, planes } = tiffsep(page, ppi)
    const step = 25.4 / ppi
    const mm = 25.4 / 72
    for (const [i, [name, write]] of shadings.entries()) {
      const [x0, y0] = cell(i)
      const { field, names } = await opened(write, [mm, 0, 0, mm, x0 * mm, y0 * mm])
      const differences: number[] = []
      const shape = new Float32Array(100)
      for (let y = 1; y < 99; y++) {
        const out = field.inks.map(() => new Float32Array(100))
        field.row((2 * x0 + 0.5) * step, (2 * y0 + y + 0.5) * step, step, 100, out, shape)
        for (const [k, ink] of names.entries())
          for (let x = 1; x < 99; x++) {
            const from = (height - 1 - (2 * y0 + y)) * width + 2 * x0 + x
            const plane = planes.get(ink)
            const around = [-width, -1, 0, 1, width].map(by => plane?.[from + by] ?? 0)
            // Edges of the shading, which the renderer draws by pieces of its own.
            if (Math.max(...around) - Math.min(...around) > 24 || shape[x]! % 1 !== 0) continue
            differences.push(Math.abs(out[k]![x]! * shape[x]! * 255 - around[2]!))
          }
      }
      const mean = differences.reduce((sum, value) => sum + value, 0) / differences.length
      expect(differences.length, name).toBeGreaterThan(8000)
      // Faint edges stay in: they are some few squares.
      differences.sort((a, b) => a - b)
      const most = differences[Math.floor(0.995 * differences.length)]!
      expect(most, `${name}: mean ${mean.toFixed(3)}`).toBeLessThanOrEqual(2)
      expect(mean, name).toBeLessThan(0.5)
    }
  })
})
