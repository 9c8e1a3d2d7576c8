import { describe, expect, it } from 'vitest'
import { artCoverage } from '../../../../core/checks/art-coverage.ts'
import { type WhiteDesign, type WhiteSource, whiteFromArt } from '../../../../core/checks/white/from-art.ts'
import { whiteSources } from '../../../../core/checks/white/sources.ts'
import { checkInput } from '../../../support/check-input.ts'
import { paintedFile } from '../../painted.ts'

/** 20 × 20 mm at 10 pixels a mm. */
const size = { width: 200, height: 200, widthMm: 20, heightMm: 20 }
const design: WhiteDesign = { chokeMm: 0.15, spreadMm: 1, chokeFromPt: 8 }

/** A box in mm from the lower left corner, edges on pixels. */
function boxed(leftMm: number, bottomMm: number, rightMm: number, topMm: number): Uint8Array {
  const data = new Uint8Array(size.width * size.height)
  for (let y = 0; y < size.height; y++)
    for (let x = 0; x < size.width; x++) {
      const [xMm, yMm] = [(x + 0.5) / 10, 20 - (y + 0.5) / 10]
      if (xMm > leftMm && xMm < rightMm && yMm > bottomMm && yMm < topMm) data[y * size.width + x] = 255
    }
  return data
}
const under = (name: string, coverage: Uint8Array, typePt: number | null = null): WhiteSource => ({
  use: 'under',
  name,
  coverage,
  typePt,
})
const make = (sources: readonly WhiteSource[], change: Partial<WhiteDesign> = {}) =>
  whiteFromArt(size, sources, { ...design, ...change })

describe('white from art', () => {
  it('stays inside its objects by the choke', () => {
    const { areaMm2, made } = make([under('Comet', boxed(5, 5, 15, 15))])
    // 9.7 × 9.7 mm, edges to 0.01 mm.
    expect(Math.abs(areaMm2 - 9.7 ** 2)).toBeLessThan(4 * 9.7 * 0.01)
    expect(made).toEqual([{ name: 'Comet', did: 'choked' }])
  })

  it('reaches beyond them where the choke is below 0', () => {
    // Corners of what has grown are round.
    const expected = 10.4 ** 2 - (4 - Math.PI) * 0.2 ** 2
    expect(
      Math.abs(make([under('Comet', boxed(5, 5, 15, 15))], { chokeMm: -0.2 }).areaMm2 - expected),
    ).toBeLessThan(4 * 10.4 * 0.01)
  })

  it('objects that touch stay one', () => {
    const two = make([under('left', boxed(5, 5, 10, 15)), under('right', boxed(10, 5, 15, 15))])
    expect(two.data).toEqual(make([under('both', boxed(5, 5, 15, 15))]).data)
  })

  it('small type keeps its edge, larger type is choked', () => {
    const type = boxed(5, 5, 6, 15)
    expect(make([under('small', type, 7.9)]).areaMm2).toBeCloseTo(10, 6)
    expect(make([under('small', type, 7.9)]).made[0]!.did).toBe('unchoked type')
    expect(make([under('large', type, 8)]).areaMm2).toBeLessThan(7.5)
  })

  it('a patch reaches beyond its box by the spread', () => {
    const box = { leftMm: 5.03, bottomMm: 5, rightMm: 15, topMm: 10 }
    expect(make([{ use: 'patch', name: 'EAN', box }]).areaMm2).toBeCloseTo(11.97 * 7, 1)
  })

  it('a knock-out takes away what all others put there', () => {
    const { data, made } = make([
      under('Comet', boxed(5, 5, 15, 15)),
      { use: 'knock-out', name: 'Star', coverage: boxed(8, 8, 12, 12) },
    ])
    expect(data[100 * size.width + 100]).toBe(0)
    expect(data[60 * size.width + 100]).toBe(255)
    expect(made.map(({ did }) => did)).toEqual(['choked', 'knock-out'])
  })

  it('without a source there is no white; a coverage of another size is refused', () => {
    expect(make([]).areaMm2).toBe(0)
    expect(() => make([under('x', new Uint8Array(3))])).toThrow(RangeError)
  })
})

describe('coverage of art on the pixels of a map', () => {
  it('is the mean of the art’s pixels, and leaves out other layers', async () => {
    const file = paintedFile({
      width: 8,
      height: 8,
      layers: [
        { name: 'Comet', paint: x => [1, 0, 0, 0, x < 3 ? 1 : 0] },
        { name: 'Star', paint: () => [0, 1, 0, 0, 1] },
      ],
      channels: [],
    })
    const found = await artCoverage(file, [file.art.layers[0]!], {
      width: 4,
      height: 4,
      widthMm: 4,
      heightMm: 4,
    })
    expect([...found.slice(0, 4)]).toEqual([255, 128, 0, 0])
  })
})

describe('what a white is made of', () => {
  const file = paintedFile({
    width: 200,
    height: 200,
    layers: [
      { name: 'Comet', paint: x => [1, 0, 0, 0, x < 100 ? 1 : 0] },
      {
        name: 'mnu',
        kind: 'text',
        text: { value: 'mnu', boxMm: null },
        // Strokes 1 mm high at 10 pixels a mm.
        paint: (x, y) => [0, 0, 0, 1, y >= 50 && y < 60 && x >= 120 && x < 180 && x % 6 < 3 ? 1 : 0],
      },
      { name: 'Star', paint: (x, y) => [0, 0, 0, 0, x > 40 && x < 60 && y > 40 && y < 60 ? 1 : 0] },
    ],
    channels: [],
  })
  const map = checkInput(
    { size: 200, sideMm: 20, gratings: 0, whites: [], spots: [], varnish: false },
    () => ({}),
    {
      sets: [],
    },
  ).map

  it('is read from the art, type with its size, and knock-outs and patches last', async () => {
    const box = { leftMm: 1, bottomMm: 1, rightMm: 2, topMm: 2 }
    const sources = await whiteSources(
      { art: file.art, file, map },
      { under: ['Comet', 'mnu', 'gone'], knockOut: ['Star'], patches: [{ name: 'EAN', box }] },
    )
    expect(sources.map(({ use, name }) => [use, name])).toEqual([
      ['under', 'Comet'],
      ['under', 'mnu'],
      ['knock-out', 'Star'],
      ['patch', 'EAN'],
    ])
    // Small letters of 1 mm at the usual ratio of 0.48: 1 / (0.48 · 0.35278) = 5.9 pt.
    const type = sources[1]!
    expect(type.use === 'under' && type.typePt).toBeCloseTo(5.9, 1)
    const { made, areaMm2 } = whiteFromArt(size, sources, design)
    expect(made[1]!.did).toBe('unchoked type')
    // 9.85 × 20 mm are choked, strokes have 3 mm², the star takes 1.9 × 1.9 mm; edges to 0.01 mm.
    expect(Math.abs(areaMm2 - (9.85 * 20 + 3 - 1.9 ** 2))).toBeLessThan(0.2)
  })
})
