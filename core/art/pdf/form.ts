import type { PDFDict, PDFRawStream } from '../../base/pdf.ts'
import type { Clip, Mark, Matrix } from '../ink/mark.ts'
import { identity, times } from '../ink/matrix.ts'
import { boxPath, moved } from '../ink/path.ts'
import type { ContentRun } from './content-run.ts'
import { contentOf } from './contents.ts'
import { blendingOf, readingIn } from './group-space.ts'
import { booleanOf, dictOf, nameOf, numbersOf } from './objects.ts'
import { deepestContent, type Setting, type Sheet } from './sheet.ts'
import { type GraphicsState, plainly } from './state.ts'

/** Paints a form (ISO 32000-2, 8.10), as a group where it is one (11.6.6). `own`: the optional content that it is. */
export async function paintForm(
  run: ContentRun,
  form: PDFRawStream,
  name: string,
  own?: PDFDict,
): Promise<void> {
  const { sheet, setting, state } = run
  const group = dictOf(form.dict, 'Group')
  const inside = { ...setting, contents: run.contents(own) }
  if (nameOf(group, 'S') !== 'Transparency') {
    await runForm(sheet, form, name, inside, state, run.out)
    return
  }
  const isolated = booleanOf(group, 'I') ?? false
  const knockout = booleanOf(group, 'K') ?? false
  const marks: Mark[] = []
  sheet.transparent = true
  const reading = isolated ? readingIn(setting.reading, group) : setting.reading
  await runForm(sheet, form, name, { ...inside, reading, inKnockout: knockout }, plainly(state), marks)
  if (marks.length === 0 || state.alphaFill <= 0) return
  const through = state.alphaFill === 1 && state.blend === 'normal' && state.softMask === null
  const single = !setting.inKnockout || marks.length === 1
  const blending = reading === setting.reading ? undefined : blendingOf(reading, setting.reading)
  if (through && blending === undefined && !knockout && single && (!isolated || marks.every(isPlain))) {
    for (const mark of marks) run.out.push(mark)
    return
  }
  run.add({
    kind: 'group',
    marks,
    isolated,
    knockout,
    ...(blending === undefined ? {} : { blending }),
    // Its marks are clipped themselves: clipped once more, edges would get thinner.
    clip: null,
    alpha: state.alphaFill,
    blend: state.blend,
    softMask: state.softMask,
    alphaIsShape: state.alphaIsShape,
    overprint: false,
    layer: sheet.layers.numberOf(inside.contents),
  })
}

/**
 * Whether a mark comes out the same over the page as over nothing: then a group of such marks that is laid down as it is
 * need not be a group. What overprints or blends depends on what lies below.
 */
const isPlain = (mark: Mark): boolean =>
  mark.blend === 'normal' &&
  !mark.overprint &&
  (mark.kind !== 'group' || mark.isolated || mark.marks.every(isPlain))

/** Runs the content of a form. A form that runs itself is passed over, with a finding. */
export async function runForm(
  sheet: Sheet,
  form: PDFRawStream,
  name: string,
  setting: Setting,
  state: GraphicsState,
  out: Mark[],
): Promise<void> {
  if (sheet.running.has(form) || setting.depth >= deepestContent) {
    sheet.say(
      'form-in-itself',
      `form "${name}"`,
      sheet.running.has(form)
        ? 'It is a part of itself; the inner one is left out.'
        : `It lies deeper than ${deepestContent} others; it is left out.`,
      'Export the art anew.',
      'error',
    )
    return
  }
  const matrix = times(matrixOf(form.dict), state.matrix)
  const content = contentOf(sheet, form, `form "${name}"`)
  sheet.running.add(form)
  await sheet.run(
    content,
    {
      ...setting,
      resources: dictOf(form.dict, 'Resources') ?? setting.resources,
      base: matrix,
      depth: setting.depth + 1,
    },
    { ...state, matrix, clip: boxClip(form.dict, matrix, state.clip) },
    out,
  )
  sheet.running.delete(form)
}

/** Matrix of a form or a pattern; one that is none leaves everything in place. */
export function matrixOf(dict: PDFDict): Matrix {
  const [a, b, c, d, e, f] = numbersOf(dict, 'Matrix') ?? []
  if (a === undefined || b === undefined || c === undefined || d === undefined) return identity
  return e === undefined || f === undefined ? identity : [a, b, c, d, e, f]
}

/** Left, bottom, right, top of a BBox; null where there is none or it has no area. */
export function boxOf(dict: PDFDict): readonly [number, number, number, number] | null {
  const [a, b, c, d] = numbersOf(dict, 'BBox') ?? []
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null
  const box = [Math.min(a, c), Math.min(b, d), Math.max(a, c), Math.max(b, d)] as const
  return box[2] > box[0] && box[3] > box[1] ? box : null
}

function boxClip(dict: PDFDict, matrix: Matrix, within: Clip | null): Clip | null {
  const box = boxOf(dict)
  return box === null ? within : { path: moved(boxPath(box), matrix), rule: 'nonzero', within }
}
