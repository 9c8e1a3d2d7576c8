import { BadInput } from '../../base/finding.ts'
import type { PDFDict, PDFRawStream } from '../../base/pdf.ts'
import type { Look, Paint } from '../ink/mark.ts'
import { boxPath, moved } from '../ink/path.ts'
import type { ContentRun } from './content-run.ts'
import { booleanOf, look, numberOf } from './objects.ts'
import { painted } from './paint.ts'
import { meetSpace } from './pattern.ts'
import { faultOfObject } from './sheet.ts'

const unitSquare = boxPath([0, 0, 1, 1])

/** Paints an image on the unit square (ISO 32000-2, 8.9). `own`: the optional content that it is. */
export async function paintImage(
  run: ContentRun,
  image: PDFRawStream,
  name: string,
  own?: PDFDict,
): Promise<void> {
  const stencil = booleanOf(image.dict, 'ImageMask') === true
  if (run.sheet.onlyMet) {
    run.meetLayer(own)
    if (hasSoftMask(image)) run.sheet.transparent = true
    if (!stencil) quietly(() => meetSpace(run, image))
    return
  }
  try {
    await (stencil ? paintStencil(run, image, own) : paintSamples(run, image, own))
  } catch (error) {
    const fault = faultOfObject(error)
    run.sheet.say(
      'image-not-read',
      `image "${name}"`,
      `${fault.problem}; the image is missing.`,
      fault.fix,
      'error',
    )
  }
}

const hasSoftMask = ({ dict }: PDFRawStream): boolean =>
  look(dict, 'SMask') !== undefined || (numberOf(dict, 'SMaskInData') ?? 0) > 0

async function paintSamples(run: ContentRun, image: PDFRawStream, own: PDFDict | undefined): Promise<void> {
  // Overprint mode 1 is of colours of the graphics state alone (8.6.7): all inks of an image count.
  const overprint = run.reading.aim === 'inks' && run.state.overprintFill
  // A mask of its own takes the place of the one that there is (11.6.5.2).
  const masked = hasSoftMask(image) ? { softMask: null } : {}
  place(run, await field(run, image, []), { ...run.look(false, overprint, own), ...masked })
}

/** A stencil lets the colour of fills through; one in a pattern is the pattern, faded by the stencil. */
async function paintStencil(run: ContentRun, image: PDFRawStream, own: PDFDict | undefined): Promise<void> {
  const made = painted(run, false, own)
  if (made === null) return
  const { paint, look: lies } = made
  if (paint.kind === 'tints') {
    place(run, await field(run, image, paint.inks, paint.values), lies)
    return
  }
  const plain: Look = { clip: null, alpha: 1, blend: 'normal', softMask: null, overprint: false, layer: null }
  const shape = await field(run, image, [0], [1])
  const path = moved(unitSquare, run.state.matrix)
  run.sheet.countMark(path)
  run.add({
    kind: 'group',
    marks: [
      {
        kind: 'fill',
        path,
        rule: 'nonzero',
        paint,
        text: null,
        ...lies,
        alpha: 1,
        blend: 'normal',
        softMask: null,
      },
    ],
    isolated: false,
    knockout: false,
    ...lies,
    clip: null,
    softMask: {
      from: 'alpha',
      marks: [
        { kind: 'fill', path, rule: 'nonzero', paint: shape, text: null, ...plain, softMask: lies.softMask },
      ],
      clip: null,
      backdrop: 0,
      transfer: null,
    },
  })
}

async function field(
  run: ContentRun,
  image: PDFRawStream,
  inks: readonly number[],
  values: readonly number[] = [],
): Promise<Paint> {
  const { sheet, reading, setting, state } = run
  const opened = await sheet.openers.image(reading, image, state.matrix, setting.resources, { inks, values })
  return { kind: 'field', field: opened }
}

function place(run: ContentRun, paint: Paint, lies: Look): void {
  run.addFill(moved(unitSquare, run.state.matrix), 'nonzero', paint, lies, run.setting.text)
}

function quietly(work: () => void): void {
  try {
    work()
  } catch (error) {
    faultOfObject(error)
  }
}

/** Fills all that the clip lets through with a shading (8.7.4.2). */
export function paintShading(run: ContentRun, name: string): void {
  const { sheet, reading, setting, state } = run
  const shading = run.resource('Shading', name)
  try {
    if (shading === undefined) throw missing(sheet.file, name)
    if (sheet.onlyMet) {
      run.meetLayer()
      meetSpace(run, shading)
      return
    }
    const opened = sheet.openers.shading(reading, shading, state.matrix, false, setting.resources)
    const overprint = reading.aim === 'inks' && state.overprintFill
    const paint: Paint = { kind: 'field', field: opened.field }
    run.addFill(opened.box ?? setting.extent, 'nonzero', paint, run.look(false, overprint), setting.text)
  } catch (error) {
    const fault = faultOfObject(error)
    sheet.say('shading-not-read', `shading "${name}"`, `${fault.problem}; it is missing.`, fault.fix, 'error')
  }
}

const missing = (file: string, name: string): BadInput =>
  new BadInput('shading-missing', file, `shading "${name}"`, 'is not in the file', 'Export the art anew.')

/** The optional content that an image or form names for itself. */
export const ownContent = (stream: PDFRawStream) => look(stream.dict, 'OC')
