import { describe, expect, test } from 'vitest'
import { composite } from '../../../../core/art/composite.ts'
import { type DrawnHow, drawnArt } from '../../../../core/art/drawn/art.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { drawingOfArt } from '../../../../core/carton/read/art-drawing.ts'
import { justThese } from '../../../../core/roles/members.ts'
import {
  drawnLine,
  filled,
  grouped,
  inkPage,
  pageLayer,
  processInks,
  spotOf,
  typed,
} from '../../../support/drawn-page.ts'

/** One pixel a millimetre. */
const how: DrawnHow = {
  name: 'lens.pdf',
  format: 'PDF',
  ppi: 25.4,
  mode: 'CMYK',
  number: 1,
  count: 1,
  readAs: 'inks',
}

const inks = [...processInks, spotOf('White', { solidity: 0.9, order: 1 }), spotOf('Holo', { order: 0 })]
const [white, holo] = [4, 5]

/** Cyan art, a white that knocks out of it, a tint of holography that overprints, a line of words. */
const page = inkPage({
  inks,
  layers: [
    pageLayer('Art'),
    pageLayer('White', { step: { group: 'White', type: null } }),
    pageLayer('Foil', { visible: false }),
    pageLayer('Empty', { prints: false }),
  ],
  marks: [
    filled([0, 0, 10, 10], { 0: 0.6 }, { layer: 0 }),
    filled([1, 8, 5, 9], { 3: 1 }, { layer: 0, text: typed('Halden') }),
    filled([5.7, 8, 9, 9], { 3: 1 }, { layer: 0, text: typed('Observatory') }),
    filled([2, 2, 6, 6], { [white]: 1 }, { layer: 1 }),
    filled([0, 0, 10, 1], { [holo]: 0.5 }, { layer: 2, overprint: true }),
  ],
})

const at = (plane: ArrayLike<number>, x: number, y: number): number => plane[(9 - y) * 10 + x]!

describe('layers', () => {
  test('layers of the page are layers of the art, type a layer of its own in a group', () => {
    const { layers } = drawnArt(page, how).art
    expect(layers.map(({ name, kind, parent, visible }) => [name, kind, parent, visible])).toEqual([
      ['Shapes', 'shape', 'Art', true],
      ['Halden Observatory', 'text', 'Art', true],
      ['Art', 'group', null, true],
      ['White', 'shape', null, true],
      ['Foil', 'shape', null, false],
      ['Empty', 'pixel', null, false],
    ])
    expect(layers[1]).toMatchObject({
      id: 'Art / "Halden Observatory"',
      text: { value: 'Halden Observatory', boxMm: [1, 8, 9, 9] },
      box: { left: 1, top: 1, right: 9, bottom: 2 },
    })
    expect(layers[3]).toMatchObject({ inks: ['White'], step: { group: 'White', type: null } })
    expect(layers[5]!.findings.map(one => one.code)).toEqual(['layer-not-printed'])
  })

  test('channels are the spot inks, in printing order, with the step and the layers that all of it lies in', () => {
    const { channels } = drawnArt(page, how).art
    expect(channels).toMatchObject([
      { id: 'Holo', plane: 5, kind: 'spot', layers: ['Foil'], order: 0, opacity: null },
      { id: 'White', plane: 4, layers: ['White'], step: { group: 'White', type: null }, opacity: 0.9 },
    ])
  })

  test('marks in no layer are sorted by the spot inks that they are drawn in alone', () => {
    const flat = inkPage({
      inks,
      marks: [
        filled([0, 0, 9, 9], { 0: 1 }),
        filled([1, 1, 5, 5], { [white]: 1 }),
        filled([2, 2, 4, 4], { [holo]: 1, 1: 0.2 }),
        filled([1, 6, 5, 7], { [white]: 1 }),
      ],
    })
    const { layers } = drawnArt(flat, how).art
    expect(layers.map(({ id, name, inks }) => [id, name, inks])).toEqual([
      ['page', 'Shapes', undefined],
      ['ink White', 'White', ['White']],
    ])
  })

  test('layers inside layers keep their places, and marks of groups are each in their own layer', () => {
    const nested = inkPage({
      layers: [pageLayer('Sky'), pageLayer('Comet', { parent: 0 }), pageLayer('Rings', { parent: 0 })],
      marks: [
        filled([0, 0, 9, 9], { 0: 1 }, { layer: 0 }),
        grouped([filled([1, 1, 2, 2], { 1: 1 }, { layer: 2 }), filled([2, 2, 3, 3], { 1: 1 }, { layer: 1 })]),
      ],
    })
    const { layers } = drawnArt(nested, how).art
    expect(layers.map(({ id, parent }) => [id, parent])).toEqual([
      ['Sky / shapes', 'Sky'],
      ['Rings', 'Sky'],
      ['Comet', 'Sky'],
      ['Sky', null],
    ])
  })

  test('type that something of its layer lies on stays with it', () => {
    const covered = inkPage({
      layers: [pageLayer('Art')],
      marks: [
        filled([1, 1, 3, 2], { 3: 1 }, { layer: 0, text: typed('under') }),
        filled([0, 0, 5, 5], { 1: 0.1 }, { layer: 0 }),
        filled([6, 6, 8, 7], { 3: 1 }, { layer: 0, text: typed('free') }),
      ],
    })
    const texts = drawnArt(covered, how).art.layers.filter(layer => layer.text !== null)
    expect(texts.map(layer => layer.text!.value)).toEqual(['free'])
  })
})

describe('planes', () => {
  const file = drawnArt(page, how)

  test('ink planes are the page’s, with its knock-outs, in the polarity of files; hidden plates are there', async () => {
    const cyan = await file.documentPlane(0)
    expect(cyan.box).toEqual({ left: 0, top: 0, right: 10, bottom: 10 })
    expect([at(cyan.data, 0, 5), at(cyan.data, 3, 3)]).toEqual([102, 255])
    const [whites, holos] = [await file.documentPlane(white), await file.documentPlane(holo)]
    expect([at(whites.data, 3, 3), at(whites.data, 7, 3)]).toEqual([0, 255])
    expect([at(holos.data, 3, 0), at(holos.data, 3, 3)]).toEqual([127, 255])
    await expect(file.documentPlane(6)).rejects.toThrow(RangeError)
    expect((await file.documentPlane(0, { top: 4, bottom: 6 })).box).toMatchObject({ top: 4, bottom: 6 })
  })

  test('a picture of layers is painted by the page: alpha is what is painted, of spot inks how much', async () => {
    const { layers } = file.art
    const one = (id: string) =>
      justThese(
        file.art,
        layers.filter(layer => layer.id === id),
      )
    const art = await composite(file, { include: layer => layer.parent === 'Art' })
    expect([at(art.alpha, 3, 3), at(art.planes[0]!, 3, 3)]).toEqual([1, expect.closeTo(0.4, 2)])
    const knocked = await composite(file, {
      include: layer => layer.parent === 'Art',
      knocking: new Set(['White']),
    })
    expect([at(knocked.alpha, 3, 3), at(knocked.planes[0]!, 3, 3)]).toEqual([1, 1])
    const foil = await composite(file, one('Foil'))
    expect(at(foil.alpha, 3, 0)).toBeCloseTo(0.5, 2)
    const region = { left: 2, top: 4, right: 5, bottom: 6 }
    const part = await composite(file, { ...one('White'), region, colours: false })
    expect([part.planes.length, part.alpha.length, part.alpha[0]]).toEqual([0, 6, 1])
    const alpha = await file.layerPlane('White', -1)
    expect(alpha).toEqual({
      box: { left: 2, top: 4, right: 6, bottom: 8 },
      data: new Uint8Array(16).fill(255),
    })
    expect(await file.layerPlane('Empty', 0)).toBeNull()
  })
})

describe('outlines', () => {
  test('a plain shape is its outline too; pictures of more than outlines are not', () => {
    const { layers } = drawnArt(
      inkPage({
        layers: [pageLayer('Ring'), pageLayer('Veil'), pageLayer('Cut')],
        marks: [
          filled([1, 1, 4, 4], { 0: 1 }, { layer: 0 }),
          filled([1, 1, 4, 4], { 0: 1 }, { layer: 1, alpha: 0.5 }),
          drawnLine(
            [
              [1, 1],
              [9, 1],
              [9, 9],
            ],
            0.25,
            { 3: 1 },
            { layer: 2, matrix: [2, 0, 0, 2, 0, 0] },
          ),
        ],
      }),
      how,
    ).art
    const [ring, veil, cut] = layers
    expect(ring).toMatchObject({ fill: { space: 'CMYK', values: [1, 0, 0, 0] } })
    expect(ring!.vectorMask!.paths[0]!.knots.map(knot => knot.at)).toEqual([
      [1, 1],
      [4, 1],
      [4, 4],
      [1, 4],
    ])
    expect(ring!.outlines).toMatchObject([{ rule: 'nonzero', penMm: null, planes: [0] }])
    expect([veil!.outlines, veil!.vectorMask]).toEqual([undefined, null])
    expect(cut!.outlines).toMatchObject([{ rule: null, penMm: 0.5, planes: [3] }])
    expect([...cut!.outlines![0]!.path.points]).toEqual([2, 2, 18, 2, 18, 18])
  })

  test('holes of a nonzero shape stay holes, and what lies in them is filled', () => {
    const loop = (l: number, r: number, turn: boolean) => {
      const corners = [
        [l, l],
        [r, l],
        [r, r],
        [l, r],
      ] as const
      return { steps: [0, 1, 1, 1, 3], points: (turn ? corners.toReversed() : corners).flat() }
    }
    const loops = [loop(2, 3, false), loop(0, 10, false), loop(1, 9, true), loop(4, 6, false)]
    const path = {
      steps: Uint8Array.from(loops.flatMap(one => one.steps)),
      points: Float64Array.from(loops.flatMap(one => one.points)),
    }
    const [layer] = drawnArt(inkPage({ marks: [filled([0, 0, 1, 1], { 0: 1 }, { path })] }), how).art.layers
    expect(layer!.vectorMask!.paths.map(({ combine, knots }) => [combine, knots[0]!.at[0]])).toEqual([
      ['unite', 0],
      ['subtract', 1],
      ['unite', 4],
      ['unite', 2],
    ])
  })
})

describe('how a page is read', () => {
  test('by layers: coverage of each, no inks of their own', async () => {
    const file = drawnArt({ ...page, inexact: [finding] }, { ...how, readAs: 'layers' })
    expect(file.art.channels).toEqual([])
    expect(file.art.layers.some(layer => layer.inks !== undefined)).toBe(false)
    const alpha = await file.layerPlane('Foil', -1)
    expect(alpha!.data.every(value => value === 255)).toBe(true)
    expect(file.art.findings.map(one => one.code)).toEqual(['read-by-layers'])
    expect(drawnArt({ ...page, inexact: [finding] }, how).art.findings).toEqual([finding])
  })

  test('missing fonts are named; sizes that nobody can paint are refused with what would do', () => {
    const fonts = [
      { name: 'Halden Sans', embedded: true },
      { name: 'Rings', embedded: false },
    ]
    expect(drawnArt({ ...page, fonts }, how).art.findings[0]).toMatchObject({
      code: 'fonts-missing',
      message: '"Rings" is not in the file; other letters stand for it',
    })
    expect(() => drawnArt(inkPage({ widthMm: 14_000, heightMm: 900 }), { ...how, ppi: 300 })).toThrow(
      /14000 × 900 mm.*Choose 165 ppi or less/,
    )
    expect(() => drawnArt(inkPage({ widthMm: 0 }), how)).toThrow(BadInput)
  })
})

const finding = {
  severity: 'warning',
  code: 'inexact',
  where: 'shading 1',
  message: 'its inks cannot be told',
  fix: 'Flatten it.',
} as const

describe('the die of a drawn page', () => {
  test('is its lines in layers, steps or inks that speak of it, each by its own name', () => {
    const spots = [...processInks, spotOf('Cut'), spotOf('Crease'), spotOf('Gold')]
    const line = (y: number) =>
      [
        [1, y],
        [9, y],
      ] as const
    const dash = {
      width: 0.2,
      cap: 'butt',
      join: 'miter',
      miterLimit: 10,
      dash: [1, 1],
      dashPhase: 0,
    } as const
    const { art } = drawnArt(
      inkPage({
        inks: spots,
        layers: [
          pageLayer('Technical'),
          pageLayer('Lines', { step: { group: 'Structural', type: 'Perforating' } }),
          pageLayer('Stars'),
          pageLayer('Dieline', { visible: false }),
        ],
        marks: [
          drawnLine(line(1), 0.2, { 4: 1 }, { layer: 0 }),
          drawnLine(line(2), 0.2, { 5: 1 }, { layer: 0, style: dash }),
          drawnLine(line(3), 0.2, { 6: 1 }, { layer: 0 }),
          drawnLine(line(4), 0.2, { 3: 1 }, { layer: 1 }),
          drawnLine(line(5), 0.2, { 3: 1 }, { layer: 2 }),
          drawnLine(line(6), 0.2, { 3: 1 }, { layer: 3 }),
        ],
      }),
      how,
    )
    const drawing = drawingOfArt(art)
    expect(
      drawing.lines.map(({ points, names, dashed }) => [points[0]![1], names[0]!.at(-1), dashed]),
    ).toEqual([
      [1, 'Cut', false],
      [2, 'Crease', true],
      [4, 'Structural', false],
    ])
    expect(drawing.findings.map(one => one.message)).toEqual(['1 hidden vector layers are left out'])
  })
})
