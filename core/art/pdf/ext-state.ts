import { PDFArray, type PDFDict, type PDFObject } from '../../base/pdf.ts'
import type { ContentRun } from './content-run.ts'
import { arrayOf, asDict, asName, asNumber, asNumbers, booleanOf, items, look, numberOf } from './objects.ts'
import { faultOfObject } from './sheet.ts'
import { softMaskOf } from './soft-mask.ts'
import { blendOf, capOf, dashOf, type GraphicsState, joinOf } from './state.ts'
import { fontOf } from './text-stage.ts'

/** Takes over what a graphics state dictionary says (ISO 32000-2, 8.4.5). */
export async function applyExtState(run: ContentRun, dict: PDFDict): Promise<void> {
  const { state } = run
  const stroke = booleanOf(dict, 'OP')
  const fill = booleanOf(dict, 'op') ?? stroke
  const dash = arrayOf(dict, 'D')
  const style = {
    ...state.style,
    ...given('width', Math.abs(numberOf(dict, 'LW') ?? Number.NaN)),
    ...given('miterLimit', numberOf(dict, 'ML')),
  }
  const cap = numberOf(dict, 'LC')
  const join = numberOf(dict, 'LJ')
  const changed: GraphicsState = {
    ...state,
    style: {
      ...style,
      cap: cap === undefined ? style.cap : capOf(cap),
      join: join === undefined ? style.join : joinOf(join),
      ...(dash === undefined
        ? {}
        : { dash: dashOf(asNumbers(dash.lookup(0))), dashPhase: asNumber(dash.lookup(1)) ?? 0 }),
    },
    overprintStroke: stroke ?? state.overprintStroke,
    overprintFill: fill ?? state.overprintFill,
    overprintMode: numberOf(dict, 'OPM') ?? state.overprintMode,
    textKnockout: booleanOf(dict, 'TK') ?? state.textKnockout,
    alphaIsShape: booleanOf(dict, 'AIS') ?? state.alphaIsShape,
    alphaStroke: share(numberOf(dict, 'CA')) ?? state.alphaStroke,
    alphaFill: share(numberOf(dict, 'ca')) ?? state.alphaFill,
  }
  run.state = changed
  blend(run, dict)
  font(run, dict)
  const mask = look(dict, 'SMask')
  if (asName(mask) === 'None') run.state = { ...run.state, softMask: null }
  else if (mask !== undefined) await fade(run, mask)
  if (!isOpaque(run.state)) run.sheet.transparent = true
}

const isOpaque = ({ alphaFill, alphaStroke, blend, softMask }: GraphicsState): boolean =>
  alphaFill === 1 && alphaStroke === 1 && blend === 'normal' && softMask === null

async function fade(run: ContentRun, mask: PDFObject): Promise<void> {
  if (asDict(mask) === undefined) return
  try {
    run.state = { ...run.state, softMask: await softMaskOf(run, mask) }
  } catch (error) {
    const fault = faultOfObject(error)
    run.state = { ...run.state, softMask: null }
    run.sheet.say(
      'soft-mask-not-read',
      'soft mask',
      `${fault.problem}; what it would fade is painted whole.`,
      'Export the art anew.',
      'error',
    )
  }
}

function blend(run: ContentRun, dict: PDFDict): void {
  const named = look(dict, 'BM')
  if (named === undefined) return
  const names = named instanceof PDFArray ? items(named).map(asName) : [asName(named)]
  const mode = blendOf(names)
  if (mode === undefined)
    run.sheet.say(
      'blend-mode-unknown',
      `blend mode "${names[0] ?? '?'}"`,
      'It is no blend mode of PDF; the object is laid down as normal.',
      'Choose another blend mode where the art was made.',
    )
  run.state = { ...run.state, blend: mode ?? 'normal' }
}

function font(run: ContentRun, dict: PDFDict): void {
  const pair = arrayOf(dict, 'Font')
  if (pair === undefined) return
  const size = asNumber(pair.lookup(1))
  const opened = fontOf(run, asDict(pair.lookup(0)), 'of a graphics state')
  run.state = { ...run.state, text: { ...run.state.text, font: opened, ...given('size', size) } }
}

/** An entry, where there is a number for it. */
function given<K extends string>(key: K, value: number | undefined): Partial<Record<K, number>> {
  return value === undefined || Number.isNaN(value) ? {} : ({ [key]: value } as Record<K, number>)
}

const share = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.min(1, Math.max(0, value))
