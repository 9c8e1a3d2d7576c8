import { type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import type { Mark, SoftMask } from '../ink/mark.ts'
import type { ContentRun } from './content-run.ts'
import { runForm } from './form.ts'
import { asDict, asName, booleanOf, dictOf, look, nameOf, numbersOf } from './objects.ts'
import type { Reading } from './reading.ts'
import { deviceGray } from './sheet.ts'
import { initialState } from './state.ts'

/**
 * The mask that a graphics state names (ISO 32000-2, 11.5 and 11.6.5.2), in the space that there is as it is named.
 * A mask that cannot be read is none, with a finding.
 */
export async function softMaskOf(run: ContentRun, object: PDFObject): Promise<SoftMask | null> {
  const { sheet } = run
  const key = JSON.stringify([run.state.matrix, run.reading.aim])
  const known = sheet.masks.get(object) ?? new Map<string, SoftMask | null>()
  sheet.masks.set(object, known)
  const before = known.get(key)
  if (before !== undefined) return before
  const made = await makeMask(run, object)
  known.set(key, made)
  return made
}

async function makeMask(run: ContentRun, object: PDFObject): Promise<SoftMask | null> {
  const { sheet, setting } = run
  const dict = asDict(object)
  const group = look(dict, 'G')
  if (!(group instanceof PDFRawStream)) {
    sheet.say(
      'soft-mask-not-read',
      'soft mask',
      'It has no group; what it would fade is painted whole.',
      'Export the art anew.',
      'error',
    )
    return null
  }
  const from = nameOf(dict, 'S') === 'Alpha' ? 'alpha' : 'luminosity'
  const reading = from === 'alpha' ? run.reading : luminosityReading(run.reading)
  const grey = sheet.openers.colorSpace(reading, deviceGray, null)
  const marks: Mark[] = []
  await runForm(
    sheet,
    group,
    'soft mask',
    {
      ...setting,
      reading,
      contents: [],
      text: null,
      colorLocked: false,
      inKnockout: booleanOf(dictOf(group.dict, 'Group'), 'K') ?? false,
    },
    initialState(run.state.matrix, null, grey),
    marks,
  )
  const transfer = look(dict, 'TR')
  return {
    from,
    marks,
    clip: null,
    backdrop: from === 'alpha' ? 0 : backdropOf(run, reading, group, numbersOf(dict, 'BC')),
    transfer:
      transfer === undefined || asName(transfer) === 'Identity' ? null : sheet.openers.transfer(transfer),
  }
}

/** Marks of a luminosity mask paint one ink, whose amount is 1 − luminosity. */
function luminosityReading(reading: Reading): Reading {
  const ink = { name: 'luminosity', alternate: null, solidity: null, order: null }
  return { ...reading, aim: 'luminosity', light: null, inks: { list: [ink], numberOf: () => 0 } }
}

/** Luminosity of what the group lies on; black where the mask names none. */
function backdropOf(
  run: ContentRun,
  reading: Reading,
  group: PDFRawStream,
  color: readonly number[] | undefined,
): number {
  const space = look(dictOf(group.dict, 'Group'), 'CS')
  if (color === undefined || space === undefined) return 0
  const opened = run.sheet.openers.colorSpace(reading, space, run.setting.resources)
  return 1 - (opened.tints(color)[0] ?? 1)
}
