import type { TextRun } from '../ink/mark.ts'
import { identity, times } from '../ink/matrix.ts'
import { Brush } from './brush.ts'
import type { Glyph, OpenedFont } from './reading.ts'
import { emMatrix, type TextObject, type TextStage, type TextState } from './text-state.ts'

/**
 * Does one operator of text (ISO 32000-2, 9.3 and 9.4). Operands that do not fit leave everything as it is.
 * @returns false where the operator is none of text
 */
export function textOperator(
  stage: TextStage,
  object: TextObject,
  operator: string,
  operands: readonly unknown[],
): boolean | Promise<boolean> {
  const known = operators.get(operator)
  if (known === undefined) return false
  const done = known(stage, object, operands)
  return done instanceof Promise ? done.then(() => true) : true
}

type Operator = (stage: TextStage, object: TextObject, operands: readonly unknown[]) => void | Promise<void>

const operators = new Map<string, Operator>([
  ['BT', (_, object) => begin(object)],
  ['ET', (stage, object) => end(stage, object)],
  ['Tc', (stage, _, [value]) => set(stage, 'charSpacing', value)],
  ['Tw', (stage, _, [value]) => set(stage, 'wordSpacing', value)],
  ['Tz', (stage, _, [value]) => set(stage, 'scale', isNumber(value) ? value / 100 : value)],
  ['TL', (stage, _, [value]) => set(stage, 'leading', value)],
  ['Ts', (stage, _, [value]) => set(stage, 'rise', value)],
  [
    'Tr',
    (stage, _, [value]) =>
      set(stage, 'mode', isNumber(value) && value >= 0 && value <= 7 ? Math.floor(value) : null),
  ],
  ['Tf', (stage, _, [name, size]) => choose(stage, name, size)],
  ['Td', (_, object, [x, y]) => nextLine(object, x, y)],
  [
    'TD',
    (stage, object, [x, y]) => {
      if (isNumber(y)) set(stage, 'leading', -y)
      nextLine(object, x, y)
    },
  ],
  ['Tm', (_, object, values) => place(object, values)],
  ['T*', (stage, object) => nextLine(object, 0, -stage.text.leading)],
  ['Tj', (stage, object, [string]) => show(stage, object, [string])],
  ['TJ', (stage, object, [pieces]) => show(stage, object, Array.isArray(pieces) ? pieces : [])],
  [
    "'",
    (stage, object, [string]) => {
      nextLine(object, 0, -stage.text.leading)
      return show(stage, object, [string])
    },
  ],
  [
    '"',
    (stage, object, [words, chars, string]) => {
      set(stage, 'wordSpacing', words)
      set(stage, 'charSpacing', chars)
      nextLine(object, 0, -stage.text.leading)
      return show(stage, object, [string])
    },
  ],
])

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value)

function set(stage: TextStage, field: Exclude<keyof TextState, 'font'>, value: unknown): void {
  if (isNumber(value)) stage.text = { ...stage.text, [field]: value }
}

function choose(stage: TextStage, name: unknown, size: unknown): void {
  if (typeof name !== 'object' || name === null || !('name' in name) || typeof name.name !== 'string') return
  const font = stage.font(name.name)
  stage.text = { ...stage.text, font, size: isNumber(size) ? size : stage.text.size }
}

function begin(object: TextObject): void {
  object.matrix = identity
  object.line = identity
}

function end(stage: TextStage, object: TextObject): void {
  if (object.clip !== null) stage.clip(object.clip.path())
  object.clip = null
}

function nextLine(object: TextObject, x: unknown, y: unknown): void {
  if (!isNumber(x) || !isNumber(y)) return
  object.line = times([1, 0, 0, 1, x, y], object.line)
  object.matrix = object.line
}

function place(object: TextObject, values: readonly unknown[]): void {
  if (values.length !== 6 || !values.every(isNumber)) return
  const [a, b, c, d, e, f] = values
  object.line = [a!, b!, c!, d!, e!, f!]
  object.matrix = object.line
}

/** Strings, and numbers that move the pen back by thousandths of the size. */
function show(stage: TextStage, object: TextObject, pieces: readonly unknown[]): void | Promise<void> {
  const { font } = stage.text
  if (font === null) return
  const shown: readonly (number | readonly Glyph[])[] = pieces.map(piece =>
    isNumber(piece) ? piece : piece instanceof Uint8Array ? font.glyphs(piece) : [],
  )
  const run = runOf(stage, object, font, shown)
  if (font.type3 !== null) return showContents(stage, object, font.type3, shown, run)
  const brush = new Brush(stage, object, run)
  for (const piece of shown)
    if (typeof piece === 'number') moveBack(stage.text, object, font.vertical, piece)
    else
      for (const glyph of piece) {
        brush.draw(glyph)
        movePast(stage.text, object, font.vertical, glyph)
      }
  brush.finish()
}

async function showContents(
  stage: TextStage,
  object: TextObject,
  { matrix, resources }: NonNullable<OpenedFont['type3']>,
  shown: readonly (number | readonly Glyph[])[],
  run: TextRun,
): Promise<void> {
  for (const piece of shown)
    if (typeof piece === 'number') moveBack(stage.text, object, false, piece)
    else
      for (const glyph of piece) {
        const { text, ctm } = stage
        // Whether filled or stroked is said inside the glyph; of the modes only "neither" counts.
        if (glyph.content !== null && text.mode !== 3 && text.mode !== 7)
          await stage.type3(glyph.content, times(times(matrix, emMatrix(text, object)), ctm), resources, run)
        movePast(text, object, false, glyph)
      }
}

function moveBack(text: TextState, object: TextObject, vertical: boolean, thousandths: number): void {
  const by = (-thousandths / 1000) * text.size
  movePen(object, vertical ? 0 : by * text.scale, vertical ? by : 0)
}

function movePast(text: TextState, object: TextObject, vertical: boolean, glyph: Glyph): void {
  const by = glyph.advance * text.size + text.charSpacing + (glyph.isSpace ? text.wordSpacing : 0)
  movePen(object, vertical ? 0 : by * text.scale, vertical ? by : 0)
}

function movePen(object: TextObject, x: number, y: number): void {
  object.matrix = times([1, 0, 0, 1, x, y], object.matrix)
}

function runOf(
  stage: TextStage,
  object: TextObject,
  font: OpenedFont,
  shown: readonly (number | readonly Glyph[])[],
): TextRun {
  const [, , c, d] = times(emMatrix(stage.text, object), stage.ctm)
  return {
    value: shown.map(piece => (typeof piece === 'number' ? gap(piece) : textOf(piece))).join(''),
    fontName: font.name,
    sizeMm: Math.hypot(c, d),
  }
}

const textOf = (glyphs: readonly Glyph[]): string => glyphs.map(({ unicode }) => unicode).join('')

/** Many programs move the pen instead of writing a space: a fifth of the size and more reads as one. Common practice, no source. */
const gap = (thousandths: number): string => (thousandths <= -200 ? ' ' : '')
