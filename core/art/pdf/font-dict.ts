import type { PDFDict } from '../../base/pdf.ts'
import { arrayOf, asDict, dictOf, items, look, nameOf, numberOf, streamOf } from './objects.ts'

/** What a font dictionary says of itself (ISO 32000-2, 9.5 to 9.8). */
export interface FontSaid {
  /** Without the letters that mark a subset. */
  readonly name: string
  readonly kind: 'simple' | 'composite' | 'type3'
  readonly embedded: boolean
  /** FontDescriptor, Flags; 0 where it says nothing. */
  readonly flags: number
}

export function fontSaid(font: PDFDict): FontSaid {
  const subtype = nameOf(font, 'Subtype')
  const kind = subtype === 'Type0' ? 'composite' : subtype === 'Type3' ? 'type3' : 'simple'
  const under = kind === 'composite' ? asDict(items(arrayOf(font, 'DescendantFonts'))[0]) : font
  const descriptor = dictOf(under, 'FontDescriptor')
  const stated = nameOf(font, 'BaseFont') ?? nameOf(descriptor, 'FontName') ?? nameOf(font, 'Name')
  const files = ['FontFile', 'FontFile2', 'FontFile3']
  return {
    name: stated?.replace(/^[A-Z]{6}\+/, '') ?? 'without a name',
    kind,
    embedded: kind === 'type3' || files.some(name => streamOf(descriptor, name) !== undefined),
    flags: numberOf(descriptor, 'Flags') ?? 0,
  }
}

/** Entries that say which glyph a code is, and how wide: all that a font which stands in takes over. */
export const codeEntries = ['Encoding', 'ToUnicode', 'FirstChar', 'LastChar', 'Widths'] as const

/** Whether a font has an entry at all. */
export const says = (font: PDFDict, name: string): boolean => look(font, name) !== undefined
