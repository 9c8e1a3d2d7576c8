import { describe, expect, test } from 'vitest'
import { type Alias, kindOfName } from '../../../../core/carton/read/kind-words.ts'
import { codes, readText, svgOf, tuckCarton } from './drawn.ts'

const of = (name: string, aliases: readonly Alias[] = []) => kindOfName(name, aliases)

describe('names', () => {
  // Structural types of ISO 19593-1, as the PDF association's object model lists them.
  test.each([
    ['Cutting', 'cut'],
    ['PartialCutting', 'cut-crease'],
    ['ReversePartialCutting', 'cut-crease'],
    ['Creasing', 'crease'],
    ['ReverseCreasing', 'reverse-crease'],
    ['CuttingCreasing', 'cut-crease'],
    ['ReverseCuttingCreasing', 'cut-crease'],
    ['PartialCuttingCreasing', 'cut-crease'],
    ['ReversePartialCuttingCreasing', 'reverse-crease'],
    ['Drilling', 'cut'],
    ['Gluing', 'glue'],
    ['FoilStamping', 'other'],
    ['ColdFoilStamping', 'other'],
    ['Embossing', 'other'],
    ['Debossing', 'other'],
    ['Perforating', 'perforation'],
    ['Bleed', 'bleed'],
    ['Folding', 'crease'],
    ['Punching', 'cut'],
    ['Dimensions', 'other'],
    ['Legend', 'other'],
    ['Braille', 'other'],
    ['Varnish', 'other'],
    ['White', 'other'],
  ])('%s is %s', (name, kind) => expect(of(name)).toBe(kind))

  // Trade words, from memory.
  test.each([
    ['CUT', 'cut'],
    ['Die_cut lines', 'cut'],
    ['through-cut', 'cut'],
    ['Stanzung Schnitt', 'cut'],
    ['découpe', 'cut'],
    ['02 Crease lines', 'crease'],
    ['fold', 'crease'],
    ['Rillung', 'crease'],
    ['rainage', 'crease'],
    ['cordonatura', 'crease'],
    ['压痕', 'crease'],
    ['perf', 'perforation'],
    ['Aufreißperforation', 'tear'],
    ['tear strip', 'tear'],
    ['cut-crease', 'cut-crease'],
    ['Klebelasche', 'glue'],
    ['Beschnitt', 'bleed'],
    ['Artwork', 'other'],
    ['Holo lens rings', 'other'],
    ['Comet', null],
    ['path1023', null],
    ['Dieline', null],
    ['Cut and crease', null],
    ['cut + fold', null],
    ['', null],
  ])('%s is %s', (name, kind) => expect(of(name)).toBe(kind))

  test("the user's own words come first, as terms or as whole names", () => {
    const aliases: readonly Alias[] = [
      { name: 'Messer*', kind: 'cut' },
      { name: 'Layer 3', kind: 'crease' },
      { name: 'cut', kind: 'other' },
      { name: '—', kind: 'cut' },
    ]
    expect(of('Messerlinie', aliases)).toBe('cut')
    expect(of('layer_3', aliases)).toBe('crease')
    expect(of('Layer 4', aliases)).toBeNull()
    expect(of('cut', aliases)).toBe('other')
    expect(of('Comet', aliases)).toBeNull()
  })
})

describe('colours and dashes', () => {
  const bare = svgOf(tuckCarton(), { names: false })

  test('of two colours the one that closes the outline cuts, and that is said', () => {
    const read = readText(bare)
    expect(codes(read)).toEqual(['kinds-by-color'])
    expect(read.findings[0]!.message).toBe(
      'no name says which lines are cut; #e3001b is taken for cut, since it closes the outline, and #009640 for crease',
    )
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('an outline with a gap still reaches furthest', () => {
    const read = readText(bare.replace(/<path d="M231\.5[^"]*"\/>/, ''))
    expect(read.findings[0]!.message).toContain('#e3001b is taken for cut, since it reaches furthest out')
    expect(codes(read)).toContain('panel-open')
  })

  test('colours that the user names', () => {
    const swapped = readText(bare, { colors: { '#E3001B': 'cut', 'rgb(0,150,64)': 'crease' } })
    expect(codes(swapped)).toEqual([])
    expect(swapped.blank!.panels).toHaveLength(13)
    expect(codes(readText(bare, { colors: { '#e3001b': 'crease', '#009640': 'cut' } }))).toContain(
      'panel-open',
    )
  })

  test('one colour: dashes crease; without them it is asked', () => {
    const one = bare
      .replaceAll('#e3001b', '#000000')
      .replace('stroke="#009640"', 'stroke="#000" stroke-dasharray="3 1"')
    const dashed = readText(one)
    expect(codes(dashed)).toEqual(['kinds-by-dash'])
    expect(dashed.blank!.panels).toHaveLength(13)
    const plain = readText(one.replace('stroke-dasharray="3 1"', ''))
    expect(codes(plain)).toEqual(['kinds-unknown', 'no-lines'])
    expect(plain.findings[0]!.message).toContain('one colour: #000000')
    expect(plain.blank).toBeNull()
  })

  test('one colour: a line that closes cuts, windows too; rings that touch are asked about', () => {
    const of = (paths: string) =>
      readText(
        `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="90mm" viewBox="0 0 120 90"><g id="Dieline" fill="none" stroke="#000">${paths}</g></svg>`,
      )
    const face = '<path d="M10 10H110V80H10z"/>'
    const whole = of(`${face}<circle cx="40" cy="40" r="9"/><circle cx="80" cy="40" r="9"/>`)
    expect(codes(whole)).toEqual(['kinds-by-closing', 'no-creases'])
    expect(whole.die.lines.every(({ kind }) => kind === 'cut')).toBe(true)
    expect([whole.widthMm, whole.heightMm]).toEqual([100, 70].map(mm => expect.closeTo(mm, 6)))
    // Panels side by side share a crease.
    expect(codes(of(`${face}<path d="M10 10H60V80H10z"/>`))).toEqual(['kinds-unknown', 'no-lines'])
    expect(codes(of(`${face}<path d="M60 10V80"/>`))).toEqual(['kinds-unknown', 'no-lines'])
  })

  test('three colours without names are asked about', () => {
    const three = bare.replace('</svg>', '<path d="M0 0h9" stroke="blue"/></svg>')
    expect(readText(three).findings[0]).toMatchObject({
      code: 'kinds-unknown',
      message: expect.stringContaining('#0000ff (1 line)'),
    })
  })

  test('only one of the two is named', () => {
    const half = svgOf(tuckCarton()).replace('id="cut"', 'id="Layer 1"')
    expect(codes(readText(half))).toEqual(['kinds-by-rest'])
    expect(readText(half).blank!.panels).toHaveLength(13)
  })

  test('what neither name nor colour tells is left out and told', () => {
    const more = svgOf(tuckCarton()).replace(
      '</svg>',
      '<g id="Layer 9"><path d="M0 0h9" stroke="blue"/></g></svg>',
    )
    const read = readText(more)
    expect(codes(read)).toEqual(['lines-unknown'])
    expect(read.findings[0]!.where).toBe('"Layer 9"')
    // Of the cut's colour it is cut.
    const red = more.replace('stroke="blue"', 'stroke="#e3001b"')
    expect(codes(readText(red))).toEqual(['line-loose'])
  })

  test('a reversed crease folds toward the print', () => {
    const lines = tuckCarton()
    const lid = lines.findIndex(
      ({ kind, points }) => kind === 'crease' && points[0]![1] === 155 && points[0]![0] === 112,
    )
    const [crease] = lines.splice(lid, 1)
    const [[x0, y0], [x1]] = crease!.points as [[number, number], [number, number]]
    // The page is 20 mm larger on every side, and y runs down from 250 mm.
    const svg = svgOf(lines).replace(
      '</svg>',
      `<g id="ReverseCreasing"><path d="M${x0 + 20} ${230 - y0}H${x1 + 20}" stroke="red"/></g></svg>`,
    )
    const turned = readText(svg)
    expect(turned.findings).toEqual([])
    expect(turned.blank!.hinges.find(({ name }) => name === 'top lid')!.closedDeg).toBe(-90)
  })
})
