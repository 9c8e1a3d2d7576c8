import { type PDFDict, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import type { Look, Mark, Matrix } from '../ink/mark.ts'
import { identity, times } from '../ink/matrix.ts'
import { boxPath } from '../ink/path.ts'
import type { ContentRun } from './content-run.ts'
import { contentOf } from './contents.ts'
import { applyExtState } from './ext-state.ts'
import { boxOf, matrixOf } from './form.ts'
import { asDict, dictOf, look, numberOf } from './objects.ts'
import type { ColorSpace, Light } from './reading.ts'
import { deepestContent, deviceGray, faultOfObject } from './sheet.ts'
import { type Color, initialState, type OpenedPattern } from './state.ts'

/**
 * What a pattern paints (ISO 32000-2, 8.7); null, with a finding, where it cannot be painted.
 * @param under  of an uncoloured pattern: its space and the values of its colour
 */
export async function openPattern(
  run: ContentRun,
  pattern: PDFObject | undefined,
  name: string,
  under: { readonly space: ColorSpace; readonly values: readonly number[] } | null,
): Promise<OpenedPattern | null> {
  const dict = asDict(pattern)
  if (pattern === undefined || dict === undefined) return missing(run, name, 'is not in the file')
  const key = JSON.stringify([run.setting.base, run.reading.aim, under?.space.inks, under?.values])
  const { light } = run.reading
  const kept = run.sheet.patterns.get(pattern) ?? new Map<Light | null, Map<string, OpenedPattern | null>>()
  const known = kept.get(light) ?? new Map<string, OpenedPattern | null>()
  run.sheet.patterns.set(pattern, kept.set(light, known))
  const before = known.get(key)
  if (before !== undefined) return before
  const opened =
    numberOf(dict, 'PatternType') === 2
      ? await shadingPattern(run, dict, name)
      : pattern instanceof PDFRawStream
        ? await tilingPattern(run, pattern, name, under)
        : missing(run, name, 'has no content')
  known.set(key, opened)
  return opened
}

async function shadingPattern(run: ContentRun, dict: PDFDict, name: string): Promise<OpenedPattern | null> {
  const { sheet, reading, setting } = run
  const lies = await ownLook(run, dict)
  const shading = look(dict, 'Shading')
  if (shading === undefined) return missing(run, name, 'has no shading')
  try {
    if (sheet.onlyMet) {
      meetSpace(run, shading)
      return null
    }
    const opened = sheet.openers.shading(
      reading,
      shading,
      times(matrixOf(dict), setting.base),
      true,
      setting.resources,
    )
    return { paint: { kind: 'field', field: opened.field }, box: opened.box, lies }
  } catch (error) {
    const fault = faultOfObject(error)
    return missing(run, name, fault.problem)
  }
}

/** What a shading pattern's own graphics state says of how it is laid down (ISO 32000-2, table 75). */
async function ownLook(run: ContentRun, dict: PDFDict): Promise<Partial<Look>> {
  const own = dictOf(dict, 'ExtGState')
  if (own === undefined) return {}
  const matrix = times(matrixOf(dict), run.setting.base)
  const inside = run.within([], { ...run.state, matrix })
  await applyExtState(inside, own)
  const { alphaFill, blend, softMask, alphaIsShape, overprintFill } = inside.state
  const says = (...names: readonly string[]) => names.some(name => look(own, name) !== undefined)
  return {
    ...(says('ca') ? { alpha: alphaFill } : {}),
    ...(says('BM') ? { blend } : {}),
    ...(says('SMask') ? { softMask } : {}),
    ...(says('AIS') ? { alphaIsShape } : {}),
    ...(says('OP', 'op') ? { overprint: run.reading.aim === 'inks' && overprintFill } : {}),
  }
}

/** Lets the inks of a shading or picture be known before its marks are made. */
export function meetSpace(run: ContentRun, object: PDFObject): void {
  const space = look(asDict(object), 'ColorSpace')
  if (space !== undefined) run.sheet.openers.colorSpace(run.reading, space, run.setting.resources)
}

async function tilingPattern(
  run: ContentRun,
  pattern: PDFRawStream,
  name: string,
  under: { readonly space: ColorSpace; readonly values: readonly number[] } | null,
): Promise<OpenedPattern | null> {
  const { sheet, reading, setting } = run
  const { dict } = pattern
  const box = boxOf(dict)
  const stepX = Math.abs(numberOf(dict, 'XStep') ?? 0)
  const stepY = Math.abs(numberOf(dict, 'YStep') ?? 0)
  if (box === null || !(stepX > 0) || !(stepY > 0)) return missing(run, name, 'has a cell without area')
  if (sheet.running.has(pattern) || setting.depth >= deepestContent)
    return missing(run, name, 'is a part of itself')
  const uncolored = numberOf(dict, 'PaintType') === 2
  const color: Color | null = uncolored && under !== null ? { ...under, pattern: null } : null
  if (uncolored && color === null) return missing(run, name, 'is without a colour')
  const grey = sheet.openers.colorSpace(reading, deviceGray, null)
  const plain = initialState(identity, null, grey)
  const marks: Mark[] = []
  sheet.running.add(pattern)
  await sheet.run(
    contentOf(sheet, pattern, `pattern "${name}"`),
    {
      ...setting,
      resources: dictOf(dict, 'Resources') ?? setting.resources,
      base: identity,
      extent: boxPath(box),
      depth: setting.depth + 1,
      // Where it lies is said by the mark that it fills.
      contents: [],
      colorLocked: uncolored,
      inKnockout: false,
      text: null,
    },
    color === null ? plain : { ...plain, fill: color, stroke: color },
    marks,
  )
  sheet.running.delete(pattern)
  const matrix: Matrix = times(matrixOf(dict), setting.base)
  return { paint: { kind: 'tiling', tiling: { marks, box, stepX, stepY, matrix } }, box: null, lies: {} }
}

function missing(run: ContentRun, name: string, problem: string): null {
  run.sheet.say(
    'pattern-not-painted',
    `pattern "${name}"`,
    `The pattern ${problem}; what is filled with it is missing.`,
    'Export the art anew, with the pattern as objects or as a picture.',
    'error',
  )
  return null
}
