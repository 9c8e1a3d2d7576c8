import type { ReadGlyph, ReadStrings } from '../../base/glyph-reader.ts'
import { type PDFContext, type PDFDict, PDFName, type PDFObject, PDFString } from '../../base/pdf.ts'
import { arrayOf, asDict, dictOf, items, look } from './objects.ts'

// A composite font that is missing is told by its letters: a font of one-byte codes, one for each, stands in for it.

/** Codes of one byte but 0. */
const mostLetters = 255

/** Whether a composite font says which letters its codes are: by ToUnicode, or by a collection that everybody knows. */
export function tellsLetters(font: PDFDict): boolean {
  if (look(font, 'ToUnicode') !== undefined) return true
  const under = asDict(items(arrayOf(font, 'DescendantFonts'))[0])
  const ordering = look(dictOf(under, 'CIDSystemInfo'), 'Ordering')
  return ordering instanceof PDFString && ordering.decodeText() !== 'Identity'
}

/** Letters that glyphs stand for, each once, without spaces; the first of them where there are more than codes. */
export function lettersOf({ strings }: ReadStrings): readonly string[] {
  const all = [...strings.values()].flat().map(({ unicode }) => unicode)
  return [...new Set(all.filter(isLetter))].slice(0, mostLetters)
}

/** One code point that is seen. */
const isLetter = (text: string): boolean => [...text].length === 1 && text.trim() !== ''

/** A standard font whose codes 1, 2, 3 … are these letters. Names of letters by code point: Adobe Glyph List, section 2. */
export function letterEntries(
  context: PDFContext,
  standard: string,
  letters: readonly string[],
): ReadonlyMap<string, PDFObject> {
  const names = letters.map(nameOf)
  const encoding = { Type: 'Encoding', Differences: [1, ...names.map(name => PDFName.of(name))] }
  return new Map<string, PDFObject>([
    ['Type', PDFName.of('Font')],
    ['Subtype', PDFName.of('Type1')],
    ['BaseFont', PDFName.of(standard)],
    ['Encoding', context.obj(encoding)],
  ])
}

function nameOf(letter: string): string {
  const hex = letter.codePointAt(0)!.toString(16).toUpperCase()
  return hex.length > 4 ? `u${hex}` : `uni${hex.padStart(4, '0')}`
}

/** Glyphs with the outlines of their letters, and their own advances. */
export function drawnByLetters(
  own: ReadStrings,
  letters: readonly string[],
  read: ReadStrings | undefined,
): { readonly strings: ReadStrings; readonly lacking: readonly string[] } {
  const outlines = new Map<string, ReadGlyph['outline']>()
  for (const [at, { outline }] of (read?.strings.get(0) ?? []).entries())
    if (letters[at] !== undefined && outline.some(({ steps }) => steps.length > 0))
      outlines.set(letters[at], outline)
  const shown = [...own.strings.values()].flat().map(({ unicode }) => unicode)
  const known = new Map<ReadGlyph, ReadGlyph>()
  const drawn = (glyph: ReadGlyph): ReadGlyph => {
    const made = known.get(glyph) ?? { ...glyph, outline: outlines.get(glyph.unicode) ?? [] }
    known.set(glyph, made)
    return made
  }
  return {
    strings: {
      ...own,
      missing: outlines.size === 0,
      strings: new Map([...own.strings].map(([at, glyphs]) => [at, glyphs.map(drawn)])),
    },
    lacking: [...new Set(shown.filter(text => text.trim() !== '' && !outlines.has(text)))],
  }
}
