import { PDFArray, type PDFDict } from '../../base/pdf.ts'
import type { Mark } from '../ink/mark.ts'
import { asDict, asName, items, look, numberOf } from './objects.ts'
import type { Reading } from './reading.ts'
import type { Sheet } from './sheet.ts'

/**
 * Says where a group blends in a space that is no ink (RGB, grey): here its inks blend as inks, so the picture can differ
 * from what the program that made it showed.
 * @param marks what it holds
 */
export function judgeGroupSpace(
  sheet: Sheet,
  reading: Reading,
  group: PDFDict,
  where: string,
  marks: readonly Mark[],
): void {
  if (sheet.onlyMet || reading.aim !== 'inks' || !isLight(group) || !marks.some(blends)) return
  reading.inexact.push({
    severity: 'warning',
    code: 'blended-in-light',
    where: `page ${sheet.page}, ${where}`,
    message: 'Its objects blend in RGB or grey, which inks cannot do: they are blended ink by ink.',
    fix: 'Set the blending space of the document to CMYK, or flatten transparency.',
  })
}

function isLight(group: PDFDict): boolean {
  const space = look(group, 'CS')
  const [family, profile] = space instanceof PDFArray ? items(space) : [space]
  const name = asName(family)
  if (name === 'ICCBased') return numberOf(asDict(profile), 'N') !== 4
  return name === 'DeviceRGB' || name === 'CalRGB' || name === 'DeviceGray' || name === 'CalGray'
}

const blends = (mark: Mark): boolean =>
  mark.blend !== 'normal' ||
  mark.alpha < 1 ||
  mark.softMask !== null ||
  (mark.kind === 'group' && mark.marks.some(blends))
