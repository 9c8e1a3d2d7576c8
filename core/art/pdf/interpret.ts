import { PDFRawStream } from '../../base/pdf.ts'
import type { Mark } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import { colorOperator } from './color-operators.ts'
import { ContentReader, isDict, isName, type Operand } from './content.ts'
import { ContentRun, numbers } from './content-run.ts'
import { applyExtState } from './ext-state.ts'
import { paintForm } from './form.ts'
import { readInlineImage } from './inline-image.ts'
import { asDict, dictOf, look, nameOf } from './objects.ts'
import { pathOperators } from './path-operators.ts'
import { ownContent, paintImage, paintShading } from './picture.ts'
import type { RunContent } from './sheet.ts'
import { capOf, dashOf, type GraphicsState, joinOf } from './state.ts'
import { textOperator } from './text.ts'
import { beginText, endText } from './text-knockout.ts'
import { textStage } from './text-stage.ts'
import type { TextStage } from './text-state.ts'

/** Runs a content stream (ISO 32000-2, 7.8.2 and annex A). Operators that are none are passed over. */
export const runContent: RunContent = async (content, setting, state, out: Mark[]) => {
  setting.sheet.countContent()
  const reader = new ContentReader(content)
  const run = new ContentRun(setting, state, out, reader)
  const stage = textStage(run)
  let count = 0
  while (reader.next()) {
    setting.sheet.countOperator()
    const done = operate(run, stage, reader.operator, reader.operands)
    if (done instanceof Promise) await done
    if (setting.depth === 0 && ++count % 1024 === 0)
      setting.sheet.task?.progress?.(reader.at / content.length, 'reading the page')
  }
}

function operate(run: ContentRun, stage: TextStage, operator: string, operands: readonly Operand[]): unknown {
  const known = operators.get(operator)
  if (known !== undefined) return known(run, operands)
  const color = colorOperator(run, operator, operands)
  if (color !== false) return color
  // Before fonts are open no glyph makes a mark.
  if (run.sheet.onlyMet && showing.has(operator)) run.meetLayer()
  if (operator === 'BT') beginText(run)
  const done = textOperator(stage, run.object, operator, operands)
  if (operator === 'ET') endText(run)
  return done
}

const showing = new Set(['Tj', 'TJ', "'", '"'])

type Operator = (run: ContentRun, operands: readonly Operand[]) => void | Promise<void>

const operators = new Map<string, Operator>([
  ['q', run => run.save()],
  ['Q', run => run.restore()],
  ['cm', (run, operands) => transform(run, operands)],
  ['w', (run, operands) => withNumber(operands, width => style(run, { width: Math.abs(width) }))],
  ['J', (run, operands) => withNumber(operands, cap => style(run, { cap: capOf(cap) }))],
  ['j', (run, operands) => withNumber(operands, join => style(run, { join: joinOf(join) }))],
  ['M', (run, operands) => withNumber(operands, miterLimit => style(run, { miterLimit }))],
  ['d', (run, operands) => dash(run, operands)],
  ['gs', (run, [name]) => extState(run, name)],
  ...pathOperators,
  ['sh', (run, [name]) => (isName(name) ? paintShading(run, name.name) : undefined)],
  ['Do', (run, [name]) => (isName(name) ? paintObject(run, name.name) : undefined)],
  ['BI', run => inlineImage(run)],
  ['BMC', run => void run.marked.push(null)],
  ['BDC', (run, operands) => beginMarked(run, operands)],
  ['EMC', run => void run.marked.pop()],
  ['d1', run => lockColor(run)],
])

function withNumber(operands: readonly Operand[], set: (value: number) => void): void {
  const value = numbers(operands, 1)?.[0]
  if (value !== undefined) set(value)
}

function style(run: ContentRun, change: Partial<GraphicsState['style']>): void {
  run.state = { ...run.state, style: { ...run.state.style, ...change } }
}

function dash(run: ContentRun, [lengths, phase]: readonly Operand[]): void {
  if (!Array.isArray(lengths)) return
  const dashes = dashOf(lengths.filter((length): length is number => typeof length === 'number'))
  style(run, { dash: dashes, dashPhase: typeof phase === 'number' ? phase : 0 })
}

function transform(run: ContentRun, operands: readonly Operand[]): void {
  const [a, b, c, d, e, f] = numbers(operands, 6) ?? []
  if (a === undefined || b === undefined || c === undefined) return
  if (d === undefined || e === undefined || f === undefined) return
  run.state = { ...run.state, matrix: times([a, b, c, d, e, f], run.state.matrix) }
}

function extState(run: ContentRun, name: Operand | undefined): void | Promise<void> {
  if (!isName(name)) return
  const dict = asDict(run.resource('ExtGState', name.name))
  if (dict !== undefined) return applyExtState(run, dict)
  run.sheet.say(
    'graphics-state-missing',
    `graphics state "${name.name}"`,
    'The page names settings that it does not have: overprint, opacity or blending of some objects may differ.',
    'Export the art anew.',
  )
}

async function paintObject(run: ContentRun, name: string): Promise<void> {
  const object = run.resource('XObject', name)
  if (!(object instanceof PDFRawStream)) {
    run.sheet.say(
      'object-missing',
      `object "${name}"`,
      'The page paints an object that is not in the file.',
      'Export the art anew, or ask for a fresh copy.',
      'error',
    )
    return
  }
  if (
    dictOf(object.dict, 'Ref') !== undefined ||
    look(object.dict, 'FFilter') !== undefined ||
    dictOf(object.dict, 'F') !== undefined
  )
    run.sheet.say(
      'content-elsewhere',
      `object "${name}"`,
      'What it paints lies in another file, which is not opened; what stands for it here is painted instead.',
      'Put the content into the file itself: embed what is linked, then export again.',
    )
  const own = asDict(ownContent(object))
  const kind = nameOf(object.dict, 'Subtype')
  if (kind === 'Image') await paintImage(run, object, name, own)
  else if (kind === 'Form') await paintForm(run, object, name, own)
  else
    run.sheet.say(
      'object-unknown',
      `object "${name}"`,
      `It is a "${kind ?? 'nothing'}", which no page paints.`,
      'Export the art anew.',
    )
}

async function inlineImage(run: ContentRun): Promise<void> {
  const at = run.reader.at
  const image = readInlineImage(run.reader, run.reading.context)
  if (image !== null) await paintImage(run, image, `in the content at byte ${at}`)
}

function beginMarked(run: ContentRun, [tag, properties]: readonly Operand[]): void {
  if (!isName(tag) || tag.name !== 'OC' || isDict(properties) || !isName(properties)) {
    run.marked.push(null)
    return
  }
  run.marked.push(asDict(run.resource('Properties', properties.name)) ?? null)
}

/** A glyph that is a stencil takes the colour of the type. */
function lockColor(run: ContentRun): void {
  run.colorLocked = true
}
