import { type PDFDict, PDFName, PDFNumber } from '../../base/pdf.ts'
import type { Matrix } from '../ink/mark.ts'
import { fontSaid } from './font-dict.ts'
import { arrayOf, dictOf, items, numberOf, numbersOf, streamOf } from './objects.ts'
import type { Glyph, OpenedFont } from './reading.ts'

/**
 * A font whose glyphs are contents to be run (ISO 32000-2, 9.6.4).
 * @param unicode  what a code stands for, where that is known
 */
export function type3Font(font: PDFDict, unicode: (code: number) => string = () => ''): OpenedFont {
  const stated = numbersOf(font, 'FontMatrix')
  const matrix = (stated?.length === 6 ? stated : [0.001, 0, 0, 0.001, 0, 0]) as unknown as Matrix
  const contents = dictOf(font, 'CharProcs')
  const names = glyphNames(font)
  const first = numberOf(font, 'FirstChar') ?? 0
  const widths = items(arrayOf(font, 'Widths'))
  const glyph = (code: number): Glyph => {
    const width = widths[code - first]
    const name = names.get(code)
    return {
      // Widths are in glyph space.
      advance: width instanceof PDFNumber ? width.asNumber() * matrix[0] : 0,
      outline: null,
      unicode: unicode(code),
      isSpace: code === 32,
      content: (name === undefined ? undefined : streamOf(contents, name)) ?? null,
      origin: null,
    }
  }
  const known = new Map<number, Glyph>()
  const kept = (code: number): Glyph => {
    const made = known.get(code) ?? glyph(code)
    known.set(code, made)
    return made
  }
  return {
    name: fontSaid(font).name,
    embedded: true,
    vertical: false,
    type3: { matrix, resources: dictOf(font, 'Resources') ?? null },
    glyphs: shown => Array.from(shown, kept),
  }
}

/** Differences of the encoding: a number, then names of it and the codes that follow. */
function glyphNames(font: PDFDict): ReadonlyMap<number, string> {
  const names = new Map<number, string>()
  let code = 0
  for (const entry of items(arrayOf(dictOf(font, 'Encoding'), 'Differences')))
    if (entry instanceof PDFNumber) code = entry.asNumber()
    else if (entry instanceof PDFName) names.set(code++, entry.decodeText())
  return names
}
