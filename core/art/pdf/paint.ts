import type { PDFDict } from '../../base/pdf.ts'
import type { FillRule, Look, Mark, Paint, Path, TextRun } from '../ink/mark.ts'
import type { ContentRun } from './content-run.ts'
import { type Color, plainly } from './state.ts'

interface Painted {
  readonly paint: Paint
  readonly look: Look
}

/**
 * What the current colour paints and how it lies over what is below; null where it paints nothing (the ink None, a
 * pattern that cannot be painted). Overprinting follows ISO 32000-2, 8.6.7 and 11.7.4.3: in overprint mode 1 components
 * of DeviceCMYK that are 0 leave the ink below; a colour of another space paints all components that it has.
 */
export function painted(run: ContentRun, stroked: boolean, own?: PDFDict): Painted | null {
  const { state, reading } = run
  const color = stroked ? state.stroke : state.fill
  const overprint = reading.aim === 'inks' && (stroked ? state.overprintStroke : state.overprintFill)
  if (color.space.family === 'Pattern') {
    if (color.pattern === null) {
      if (run.sheet.onlyMet) run.meetLayer(own)
      return null
    }
    const { paint, box, lies } = color.pattern
    const look = { ...run.look(stroked, overprint, own), ...lies }
    return box === null
      ? { paint, look }
      : { paint, look: { ...look, clip: { path: box, rule: 'nonzero', within: look.clip } } }
  }
  const tints = tintsOf(color, overprint && state.overprintMode === 1)
  if (tints !== null) return { paint: tints, look: run.look(stroked, overprint, own) }
  if (overprint && !run.sheet.onlyMet && color.space.inks.length > 0) {
    const { vanished, layers } = run.sheet
    const layer = layers.numberOf(run.contents(own))
    vanished.set(layer, (vanished.get(layer) ?? 0) + 1)
  }
  return null
}

/** Amounts of ink of a plain colour; null where it paints none. */
export function tintsOf({ space, values }: Color, zerosStay: boolean): (Paint & { kind: 'tints' }) | null {
  const amounts = space.tints(values)
  if (!zerosStay || space.family !== 'DeviceCMYK')
    return space.inks.length === 0 ? null : { kind: 'tints', inks: space.inks, values: amounts }
  const inks = space.inks.filter((_, at) => (amounts[at] ?? 0) > 0)
  return inks.length === 0 ? null : { kind: 'tints', inks, values: amounts.filter(amount => amount > 0) }
}

/** Fills a path, page mm. */
export function fillPath(run: ContentRun, path: Path, rule: FillRule, text: TextRun | null): void {
  const made = painted(run, false)
  if (made !== null) run.addFill(path, rule, made.paint, made.look, text ?? run.setting.text)
}

/** Strokes a path of user space. */
export function strokePath(run: ContentRun, path: Path, text: TextRun | null): void {
  const made = painted(run, true)
  if (made !== null) run.addStroke(path, made.paint, made.look, text ?? run.setting.text)
}

/**
 * Fills and strokes a path as one object (ISO 32000-2, 11.7.4.4). Where both overprint and are equally opaque, the two
 * lie over one another in a group that is laid down with their opacity and mode; else the stroke knocks out the fill.
 * Opaque ones in the normal mode are laid one after the other, as the opaque model has it, also where the stroke alone
 * overprints: it then leaves the ink of the fill.
 */
export function fillAndStroke(
  run: ContentRun,
  onPage: Path,
  rule: FillRule,
  path: Path,
  text: TextRun | null,
): void {
  const { state, setting } = run
  const opaque = state.alphaFill === 1 && state.alphaStroke === 1 && state.softMask === null
  if (opaque && state.blend === 'normal' && !setting.inKnockout) {
    fillPath(run, onPage, rule, text)
    strokePath(run, path, text)
    return
  }
  const together = state.overprintFill && state.overprintStroke && state.alphaFill === state.alphaStroke
  const marks: Mark[] = []
  const inside = run.within(marks, together ? plainly(state) : state)
  fillPath(inside, onPage, rule, text)
  strokePath(inside, path, text)
  const [only] = marks
  if (only === undefined) return
  if (marks.length === 1 && !together) {
    run.out.push(only)
    return
  }
  const look = run.look(false, false)
  const plain = { alpha: 1, blend: 'normal', softMask: null } as const
  run.add({
    kind: 'group',
    marks,
    isolated: false,
    knockout: !together,
    ...look,
    ...(together ? {} : plain),
    clip: null,
  })
}
