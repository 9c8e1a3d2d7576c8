import { describe, expect, test } from 'vitest'
import type { Matrix, Path, TextRun } from '../../../../core/art/ink/mark.ts'
import { pathStep } from '../../../../core/art/ink/mark.ts'
import type { Glyph, OpenedFont } from '../../../../core/art/pdf/reading.ts'
import { textOperator } from '../../../../core/art/pdf/text.ts'
import { initialText, TextObject, type TextStage } from '../../../../core/art/pdf/text-state.ts'
import { PDFContext, type PDFDict, type PDFObject } from '../../../../core/base/pdf.ts'

/** A font whose every glyph is the point (0, 0) and half an em wide; a space is one too. */
const font = (more: Partial<OpenedFont> = {}, glyph: Partial<Glyph> = {}): OpenedFont => ({
  name: 'Points',
  embedded: true,
  vertical: false,
  type3: null,
  glyphs: shown =>
    [...shown].map(code => ({
      advance: 0.5,
      outline: { steps: Uint8Array.of(pathStep.move, pathStep.close), points: Float64Array.of(0, 0) },
      unicode: String.fromCharCode(code),
      isSpace: code === 32,
      content: null,
      origin: null,
      ...glyph,
    })),
  ...more,
})

class Stage implements TextStage {
  text = initialText
  ctm: Matrix = [1, 0, 0, 1, 0, 0]
  readonly done: { what: string; points: readonly number[]; run: TextRun | null }[] = []
  constructor(readonly face: OpenedFont | null = font()) {}
  font(): OpenedFont | null {
    return this.face
  }
  fill(path: Path, run: TextRun): void {
    this.done.push({ what: 'fill', points: [...path.points], run })
  }
  fillAndStroke(onPage: Path, path: Path, run: TextRun): void {
    this.fill(onPage, run)
    this.stroke(path, run)
  }
  stroke(path: Path, run: TextRun): void {
    this.done.push({ what: 'stroke', points: [...path.points], run })
  }
  clip(path: Path): void {
    this.done.push({ what: 'clip', points: [...path.points], run: null })
  }
  type3(_: PDFObject, matrix: Matrix, __: PDFDict | null, run: TextRun): void {
    this.done.push({ what: 'type3', points: [...matrix], run })
  }
}

const bytes = (text: string): Uint8Array => Uint8Array.from(text, one => one.charCodeAt(0))

/** Runs lines such as `10 Tf`; `/F` and strings are put in by the caller. */
async function run(stage: Stage, lines: readonly (readonly unknown[])[]): Promise<Stage> {
  const object = new TextObject()
  for (const line of lines)
    expect(await textOperator(stage, object, line.at(-1) as string, line.slice(0, -1))).toBe(true)
  return stage
}

const F = { name: 'F' }

describe('where the pen stands', () => {
  test('size, spacing of characters and words, and scale: ISO 32000-2, 9.4.4, tx = ((w0 - Tj/1000) Tfs + Tc + Tw) Th', async () => {
    const stage = await run(new Stage(), [
      ['BT'],
      [F, 10, 'Tf'],
      [1, 'Tc'],
      [2, 'Tw'],
      [50, 'Tz'],
      [100, 200, 'Td'],
      [[bytes('a b'), -300, bytes('c')], 'TJ'],
      ['ET'],
    ])
    const [only] = stage.done
    // a at 0; space (0.5*10 + 1) * 0.5 = 3 on; b another (0.5*10 + 1 + 2) * 0.5 = 4 on; c (5 + 1) * 0.5 + 0.3*10*0.5 on.
    expect(only?.points).toEqual([100, 200, 103, 200, 107, 200, 111.5, 200])
    expect(only?.run?.value).toBe('a b c')
    expect(only?.run?.fontName).toBe('Points')
    expect(only?.run?.sizeMm).toBe(10)
  })

  test('lines: Td adds up, TD sets the leading, T* and both quotes use it, Tm starts anew; rise lifts', async () => {
    const stage = await run(new Stage(), [
      ['BT'],
      [F, 1, 'Tf'],
      [5, 50, 'Td'],
      [bytes('a'), 'Tj'],
      [0, -12, 'TD'],
      [bytes('b'), 'Tj'],
      ['T*'],
      [bytes('c'), 'Tj'],
      [bytes('d'), "'"],
      [3, 7, bytes('e'), '"'],
      [2, 0, 0, 2, 300, 400, 'Tm'],
      [0.25, 'Ts'],
      [bytes('f'), 'Tj'],
    ])
    expect(stage.done.map(({ points }) => points)).toEqual([
      [5, 50],
      [5, 38],
      [5, 26],
      [5, 14],
      [5, 2],
      [300, 400.5],
    ])
    expect(stage.text.wordSpacing).toBe(3)
    expect(stage.text.charSpacing).toBe(7)
    expect(stage.text.leading).toBe(12)
  })

  test('the page’s own matrix comes last, and the size is the height of the em there', async () => {
    const stage = new Stage()
    stage.ctm = [0, 0.5, -0.5, 0, 30, 0]
    await run(stage, [['BT'], [F, 8, 'Tf'], [10, 20, 'Td'], [bytes('a'), 'Tj']])
    expect(stage.done[0]?.points).toEqual([20, 5])
    expect(stage.done[0]?.run?.sizeMm).toBe(4)
  })

  test('down the page: the origin lies over the glyph, spacing of characters is added as it is (9.3.2)', async () => {
    const down = font({ vertical: true }, { advance: -1, origin: [0.5, 0.88] })
    const stage = await run(new Stage(down), [
      ['BT'],
      [F, 10, 'Tf'],
      [-2, 'Tc'],
      [[bytes('a'), 500, bytes('b')], 'TJ'],
    ])
    // b: -1*10 - 2 - 0.5*10 = -17 below; both lie 5 to the left of and 8.8 below their vertical origins.
    expect(stage.done[0]?.points.map(value => Math.round(value * 1e9) / 1e9)).toEqual([-5, -8.8, -5, -25.8])
  })
})

describe('how it is painted', () => {
  test('the eight modes: fill, stroke, both by turns, neither; clips come at the end', async () => {
    const modes = [0, 1, 2, 3, 4, 5, 6, 7]
    const done = await Promise.all(
      modes.map(async mode => {
        const stage = await run(new Stage(), [
          ['BT'],
          [F, 10, 'Tf'],
          [mode, 'Tr'],
          [bytes('ab'), 'Tj'],
          ['ET'],
        ])
        return stage.done.map(({ what }) => what).join(' ')
      }),
    )
    expect(done).toEqual([
      'fill',
      'stroke',
      'fill stroke fill stroke',
      '',
      'fill clip',
      'stroke clip',
      'fill stroke fill stroke clip',
      'clip',
    ])
  })

  test('a clip of glyphs without outlines lets nothing through', async () => {
    const stage = await run(new Stage(font({}, { outline: null })), [
      ['BT'],
      [F, 10, 'Tf'],
      [7, 'Tr'],
      [bytes(' '), 'Tj'],
      ['ET'],
    ])
    expect(stage.done).toEqual([{ what: 'clip', points: [], run: null }])
  })

  test('strokes stay in user space, fills are on the page', async () => {
    const stage = new Stage()
    stage.ctm = [2, 0, 0, 2, 0, 0]
    await run(stage, [['BT'], [F, 1, 'Tf'], [2, 'Tr'], [3, 4, 'Td'], [bytes('a'), 'Tj']])
    expect(stage.done.map(({ points }) => points)).toEqual([
      [6, 8],
      [3, 4],
    ])
  })

  test('a Type 3 glyph is run by its own matrix, unless the mode is neither', async () => {
    const content = PDFContext.create().obj({})
    const drawn = font(
      { type3: { matrix: [0.01, 0, 0, 0.01, 0, 0], resources: null } },
      { content, outline: null },
    )
    const stage = await run(new Stage(drawn), [
      ['BT'],
      [F, 10, 'Tf'],
      [7, 8, 'Td'],
      [bytes('ab'), 'Tj'],
      [3, 'Tr'],
      [bytes('c'), 'Tj'],
    ])
    expect(stage.done.map(({ what, points }) => [what, ...points])).toEqual([
      ['type3', 0.1, 0, 0, 0.1, 7, 8],
      ['type3', 0.1, 0, 0, 0.1, 12, 8],
    ])
  })
})

test('what is none of text is left to others; operands that do not fit change nothing', async () => {
  const stage = new Stage()
  const object = new TextObject()
  expect(textOperator(stage, object, 'cm', [1, 0, 0, 1, 0, 0])).toBe(false)
  for (const [operator, ...operands] of [
    ['Tf'],
    ['Tf', 7, F],
    ['Tc', F],
    ['Tr', 9],
    ['Tm', 1, 2, 3],
    ['Td', Number.NaN, 1],
    ['TJ', 3],
    ['Tj', { name: 'no string' }],
    ['Tj', bytes('no font yet')],
  ])
    expect(await textOperator(stage, object, operator as string, operands)).toBe(true)
  expect(stage.text).toEqual(initialText)
  expect(stage.done).toEqual([])
  expect(object.matrix).toEqual([1, 0, 0, 1, 0, 0])
})
