import opentype from 'opentype.js'
import { describe, expect, test } from 'vitest'
import { type Path, pathStep } from '../../../../core/art/ink/mark.ts'
import { readGlyphs } from '../../../../core/base/glyph-reader.ts'
import type { PdfText } from '../../../support/pdf-write.ts'
import { coded, fontData, liberation, openOne } from './font-fixture.ts'

/** Where steps end, each once and in order of size: rounded to a millionth of the em, which is finer than any font draws. */
function ends({ steps, points }: Path): readonly string[] {
  let at = 0
  const found = new Set<string>()
  for (const step of steps) {
    at += step === pathStep.close ? 0 : step === pathStep.curve ? 6 : 2
    if (step !== pathStep.close) found.add(`${points[at - 2]!.toFixed(6)} ${points[at - 1]!.toFixed(6)}`)
  }
  return [...found].sort()
}

/** Area inside, square ems, counter-clockwise more than 0: curves by a hundred chords. */
function area({ steps, points }: Path): number {
  let at = 0
  let sum = 0
  let [x, y, startX, startY] = [0, 0, 0, 0]
  const to = (nextX: number, nextY: number): void => {
    sum += (x * nextY - nextX * y) / 2
    x = nextX
    y = nextY
  }
  for (const step of steps) {
    if (step === pathStep.close) to(startX, startY)
    else if (step === pathStep.curve) {
      const [ax, ay, bx, by, ex, ey] = points.subarray(at, at + 6) as unknown as number[]
      const [px, py] = [x, y]
      for (let i = 1; i <= 100; i++) {
        const t = i / 100
        const s = 1 - t
        to(
          s * s * s * px + 3 * s * s * t * ax! + 3 * s * t * t * bx! + t * t * t * ex!,
          s * s * s * py + 3 * s * s * t * ay! + 3 * s * t * t * by! + t * t * t * ey!,
        )
      }
      at += 6
    } else {
      const [nextX, nextY] = [points[at++]!, points[at++]!]
      if (step === pathStep.line) to(nextX, nextY)
      else {
        x = nextX
        y = nextY
        startX = nextX
        startY = nextY
      }
    }
  }
  return sum
}

/** The same of a glyph of the other library. */
function otherPath(font: opentype.Font, letter: string): Path {
  const steps: number[] = []
  const points: number[] = []
  let [x, y] = [0, 0]
  const em = font.unitsPerEm
  for (const command of font.charToGlyph(letter).path.commands) {
    const end = command.type === 'Z' ? [] : [command.x / em, command.y / em]
    if (command.type === 'M') steps.push(pathStep.move)
    else if (command.type === 'L') steps.push(pathStep.line)
    else if (command.type === 'Z') steps.push(pathStep.close)
    else {
      steps.push(pathStep.curve)
      if (command.type === 'C')
        points.push(command.x1 / em, command.y1 / em, command.x2 / em, command.y2 / em)
      else {
        const [cx, cy] = [command.x1 / em, command.y1 / em]
        for (const [fromX, fromY] of [
          [x, y],
          [end[0]!, end[1]!],
        ])
          points.push(fromX! + (2 / 3) * (cx - fromX!), fromY! + (2 / 3) * (cy - fromY!))
      }
    }
    points.push(...end)
    if (end.length > 0) [x, y] = end as [number, number]
  }
  return { steps: Uint8Array.from(steps), points: Float64Array.from(points) }
}

const thousandths = (value: number): number => Math.round(value * 1e6) / 1e3

const descriptor = (pdf: PdfText, key: string, file: string): string =>
  pdf.add(
    `<< /Type /FontDescriptor /FontName /HALDEN+Star /Flags 32 /FontBBox [-600 -300 1400 1000] /ItalicAngle 0 /Ascent 900 /Descent -200 /CapHeight 700 /StemV 80 /${key} ${file} >>`,
  )

/** A simple font around bytes of TrueType outlines. */
const trueType = (bytes: Uint8Array, widths: readonly number[]) => (pdf: PdfText) =>
  `<< /Type /Font /Subtype /TrueType /BaseFont /HALDEN+Star /FirstChar 65 /LastChar ${64 + widths.length} /Widths [${widths.join(' ')}] /Encoding /WinAnsiEncoding /FontDescriptor ${descriptor(pdf, 'FontFile2', pdf.stream(`/Length1 ${bytes.length}`, bytes))} >>`

/** Both the same outline, wherever each begins: the same ends, and the same area to the reader's 24 bits. */
function expectSame(read: Path | null, other: Path): void {
  expect(ends(read!)).toEqual(ends(other))
  expect(Math.abs(area(read!) - area(other))).toBeLessThan(1e-6)
}

/** A font drawn here: a star of lines, a lens of cubic curves, a space. Its outlines are of the kind CFF. */
function drawn(): { bytes: Uint8Array; cff: Uint8Array; font: opentype.Font } {
  const path = (draw: (pen: opentype.Path) => void): opentype.Path => {
    const pen = new opentype.Path()
    draw(pen)
    return pen
  }
  const star = path(pen => {
    for (let i = 0; i < 10; i++) {
      const angle = (Math.PI * i) / 5
      const size = i % 2 === 0 ? 400 : 160
      const [x, y] = [Math.round(400 + size * Math.sin(angle)), Math.round(400 + size * Math.cos(angle))]
      if (i === 0) pen.moveTo(x, y)
      else pen.lineTo(x, y)
    }
    pen.close()
  })
  const lens = path(pen => {
    pen.moveTo(50, 350)
    pen.curveTo(200, 600, 500, 600, 650, 350)
    pen.curveTo(500, 100, 200, 100, 50, 350)
    pen.close()
  })
  const glyph = (name: string, unicode: number, advanceWidth: number, outline: opentype.Path) =>
    new opentype.Glyph({ name, unicode, advanceWidth, path: outline })
  const font = new opentype.Font({
    familyName: 'Halden Star',
    styleName: 'Regular',
    unitsPerEm: 1000,
    ascender: 800,
    descender: -200,
    glyphs: [
      glyph('.notdef', 0, 500, new opentype.Path()),
      glyph('A', 65, 800, star),
      glyph('B', 66, 700, lens),
    ],
  })
  const bytes = new Uint8Array(font.toArrayBuffer())
  const view = new DataView(bytes.buffer)
  const tables = Array.from({ length: view.getUint16(4) }, (_, i) => 12 + 16 * i)
  const place = tables.find(at => String.fromCharCode(...bytes.subarray(at, at + 4)) === 'CFF ')!
  const start = view.getUint32(place + 8)
  return { bytes, cff: bytes.slice(start, start + view.getUint32(place + 12)), font }
}

describe('outlines of fonts in the file, held to what another library reads of the same bytes', () => {
  test('TrueType, by letters: every outline of the Latin alphabet', async () => {
    const { bytes, font } = await liberation()
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'
    const { font: read, findings } = await openOne(
      trueType(
        bytes,
        [...letters].map(() => 600),
      ),
      [coded(letters)],
    )
    expect(findings).toEqual([])
    expect([read.name, read.embedded, read.vertical]).toEqual(['Star', true, false])
    const glyphs = read.glyphs(coded(letters))
    expect(glyphs.map(({ unicode }) => unicode).join('')).toBe(letters)
    for (const [i, letter] of [...letters].entries()) expectSame(glyphs[i]!.outline, otherPath(font, letter))
    // What the page says of widths counts, and not the font.
    expect(glyphs.every(({ advance }) => Math.abs(advance - 0.6) < 1e-12)).toBe(true)
  })

  test('CFF, alone and inside an OpenType font', async () => {
    const { bytes, cff, font } = drawn()
    for (const [subtype, file, kind] of [
      ['Type1C', cff, 'Type1'],
      ['OpenType', bytes, 'Type1'],
    ] as const) {
      const { font: read, findings } = await openOne(
        pdf =>
          `<< /Type /Font /Subtype /${kind} /BaseFont /HALDEN+Star /FirstChar 65 /LastChar 66 /Widths [800 700] /Encoding /WinAnsiEncoding /FontDescriptor ${descriptor(pdf, 'FontFile3', pdf.stream(`/Subtype /${subtype}`, file))} >>`,
        [coded('BA')],
      )
      expect(findings).toEqual([])
      const [lens, star] = read.glyphs(coded('BA'))
      expectSame(lens!.outline, otherPath(font, 'B'))
      expectSame(star!.outline, otherPath(font, 'A'))
      expect([lens!.advance, star!.advance].map(thousandths)).toEqual([700, 800])
    }
  })

  test('by glyph numbers, two bytes each; the widths of W and DW', async () => {
    const { bytes, font } = await liberation()
    const number = (letter: string): number[] => {
      const { index } = font.charToGlyph(letter)
      return [index >> 8, index & 255]
    }
    const string = Uint8Array.from([...'Ag'].flatMap(number))
    const { font: read, findings } = await openOne(
      pdf =>
        `<< /Type /Font /Subtype /Type0 /BaseFont /HALDEN+Sans /Encoding /Identity-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /HALDEN+Sans /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${descriptor(pdf, 'FontFile2', pdf.stream('', bytes))} /DW 480 /W [${font.charToGlyph('A').index} [667]] /CIDToGIDMap /Identity >>] >>`,
      [string],
    )
    expect(findings).toEqual([])
    const glyphs = read.glyphs(string)
    expect(glyphs.map(({ advance }) => thousandths(advance))).toEqual([667, 480])
    expectSame(glyphs[0]!.outline, otherPath(font, 'A'))
    expectSame(glyphs[1]!.outline, otherPath(font, 'g'))
  })

  test('down the page: DW2 and W2, else the middle of the glyph and 880 above (ISO 32000-2, 9.7.4.3)', async () => {
    const { bytes } = await liberation()
    const { font: read } = await openOne(
      pdf =>
        `<< /Type /Font /Subtype /Type0 /BaseFont /HALDEN+Sans /Encoding /Identity-V /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /HALDEN+Sans /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${descriptor(pdf, 'FontFile2', pdf.stream('', bytes))} /DW 1000 /W [36 [667]] /W2 [37 [-900 300 700]] /CIDToGIDMap /Identity >>] >>`,
      [Uint8Array.of(0, 36, 0, 37)],
    )
    expect(read.vertical).toBe(true)
    const [usual, stated] = read.glyphs(Uint8Array.of(0, 36, 0, 37))
    expect([usual!.advance, ...usual!.origin!].map(thousandths)).toEqual([-1000, 333.5, 880])
    expect([stated!.advance, ...stated!.origin!].map(thousandths)).toEqual([-900, 300, 700])
  })
})

describe('fonts that are not in the file, or cannot be read, are said to be missing', () => {
  const missing = (name: string, more = '') =>
    `<< /Type /Font /Subtype /Type1 /BaseFont /${name} /Encoding /WinAnsiEncoding ${more} >>`

  test('one of the fourteen stands in, chosen by name; the widths of the file stay', async () => {
    const cases: readonly (readonly [string, string])[] = [
      ['Helvetica', 'Helvetica'],
      ['Sirius-BoldItalic', 'Helvetica-BoldOblique'],
      ['TimesNewRoman,Bold', 'Times-Bold'],
      ['VegaMono', 'Courier'],
    ]
    for (const [name, other] of cases) {
      const { font, findings } = await openOne(
        () => missing(name, '/FirstChar 65 /LastChar 65 /Widths [432]'),
        [coded('A')],
      )
      expect(findings).toHaveLength(1)
      expect(findings[0]).toMatchObject({
        code: 'font-not-embedded',
        severity: 'warning',
        where: `font "${name}"`,
      })
      expect(findings[0]!.message).toContain(`${other} stands in`)
      expect(font.embedded).toBe(false)
      const [glyph] = font.glyphs(coded('A'))
      expect(glyph!.advance).toBeCloseTo(0.432, 12)
      expect(glyph!.outline!.steps.length).toBeGreaterThan(5)
    }
  })

  test('the stand-in for Helvetica is the font that ships, outline for outline', async () => {
    const { font } = await liberation()
    const { font: read } = await openOne(() => missing('Helvetica'), [coded('Rg')])
    const glyphs = read.glyphs(coded('Rg'))
    expectSame(glyphs[0]!.outline, otherPath(font, 'R'))
    expectSame(glyphs[1]!.outline, otherPath(font, 'g'))
    // Widths of Helvetica, Adobe Font Metrics: R 722, g 556.
    expect(glyphs.map(({ advance }) => thousandths(advance))).toEqual([722, 556])
  })

  test('a composite font that is missing is told by its letters, where it says what they are', async () => {
    const toUnicode = `begincmap 1 begincodespacerange <0000> <FFFF> endcodespacerange
      3 beginbfchar <0024> <0052> <0025> <03A9> <0026> <661F> endbfchar endcmap`
    const composite = (name: string, letters: boolean) => (pdf: PdfText) =>
      `<< /Type /Font /Subtype /Type0 /BaseFont /${name} /Encoding /Identity-H ${letters ? `/ToUnicode ${pdf.stream('', toUnicode)}` : ''} /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /${name} /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor << /Type /FontDescriptor /FontName /${name} /Flags 4 >> /DW 700 /W [36 [432]] >>] >>`
    const shown = Uint8Array.of(0, 36, 0, 37, 0, 38)
    const { font: other } = await liberation()
    const { font, findings } = await openOne(composite('Orion', true), [shown])
    const glyphs = font.glyphs(shown)
    expectSame(glyphs[0]!.outline, otherPath(other, 'R'))
    expectSame(glyphs[1]!.outline, otherPath(other, 'Ω'))
    expect(glyphs[2]!.outline).toBeNull()
    expect(glyphs.map(({ advance }) => thousandths(advance))).toEqual([432, 700, 700])
    expect(findings).toMatchObject([{ code: 'font-not-embedded', severity: 'error' }])
    expect(findings[0]!.message).toContain('Helvetica stands in for it')
    expect(findings[0]!.message).toContain('lacks 星')
    // Numbers of glyphs are those of the font that is missing: another's may be other letters, and that is said.
    const numbers = await openOne(composite('ArialMT', false), [shown])
    expect(numbers.findings[0]!.message).toContain('may be wrong ones')
  })

  test('a font of noise is read by its stand-in; a composite one without letters has none', async () => {
    const noise = Uint8Array.from({ length: 3000 }, (_, i) => (i * 7919) % 251)
    const simple = await openOne(trueType(noise, [500]), [coded('A')])
    expect(simple.findings).toMatchObject([{ code: 'font-unreadable', severity: 'warning' }])
    expect(simple.font.glyphs(coded('A'))[0]!.outline).not.toBeNull()
    const composite = await openOne(
      () =>
        '<< /Type /Font /Subtype /Type0 /BaseFont /Orion /Encoding /Identity-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Orion /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor << /Type /FontDescriptor /FontName /Orion /Flags 4 >> /DW 700 >>] >>',
      [Uint8Array.of(0, 36)],
    )
    expect(composite.findings).toMatchObject([{ code: 'font-not-embedded', severity: 'error' }])
    const [glyph] = composite.font.glyphs(Uint8Array.of(0, 36))
    expect([thousandths(glyph!.advance), glyph!.outline]).toEqual([700, null])
  })
})

test('glyphs that are contents keep them, with widths by the font’s matrix', async () => {
  const { font, findings } = await openOne(
    pdf =>
      `<< /Type /Font /Subtype /Type3 /FontBBox [0 0 10 10] /FontMatrix [0.1 0 0 0.1 0 0] /FirstChar 97 /LastChar 98 /Widths [10 7] /CharProcs << /dot ${pdf.stream('', '10 0 d0 0 0 5 5 re f')} >> /Encoding << /Differences [97 /dot /lost] >> >>`,
    [coded('ab c')],
  )
  expect(findings).toEqual([])
  expect(font.type3).toEqual({ matrix: [0.1, 0, 0, 0.1, 0, 0], resources: null })
  const glyphs = font.glyphs(coded('ab c'))
  expect(glyphs.map(({ advance }) => thousandths(advance))).toEqual([1000, 700, 0, 0])
  expect(glyphs.map(({ content }) => content !== null)).toEqual([true, false, false, false])
  expect(glyphs.map(({ isSpace }) => isSpace)).toEqual([false, false, true, false])
})

test('nothing is fetched and nothing of a browser stays behind; a font too large is refused by name', async () => {
  const asked: string[] = []
  await openOne(
    () => '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
    [coded('A')],
    pdf =>
      readGlyphs(pdf, async name => {
        asked.push(name)
        return fontData(name)
      }),
  )
  expect(asked).toEqual(['standard_fonts/LiberationSans-Regular.ttf'])
  for (const name of ['DOMMatrix', 'Path2D', 'ImageData', 'pdfjsLib']) expect(name in globalThis).toBe(false)
  const deep = `${'['.repeat(60)}1${']'.repeat(60)}`
  await expect(
    openOne(
      pdf =>
        `<< /Type /Font /Subtype /TrueType /BaseFont /Deep /FontDescriptor ${descriptor(pdf, 'FontFile2', pdf.stream('', 'x'))} /Widths ${deep} >>`,
      [coded('A')],
    ),
  ).rejects.toMatchObject({ name: 'BadInput', code: 'font-too-large' })
})
