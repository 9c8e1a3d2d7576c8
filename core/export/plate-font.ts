import { deflate } from '../base/inflate.ts'
import {
  type PDFContext,
  PDFDocument,
  type PDFFont,
  PDFRawStream,
  type PDFRef,
  StandardFonts,
} from '../base/pdf.ts'

/** The font that labels are set in, from the files of the program: `standard_fonts/` of its fonts. */
export const labelFontFile = 'standard_fonts/LiberationSans-Regular.ttf'

/** What lays out a label: the widths of Helvetica, which the font that is put into the file was drawn to have. */
export async function labelMetrics(): Promise<PDFFont> {
  const apart = await PDFDocument.create({ updateMetadata: false })
  return apart.embedStandardFont(StandardFonts.Helvetica)
}

const firstCode = 32
const lastCode = 255

/**
 * The font as an object of the file, its outlines in it: a file for press brings all its fonts along (ISO 15930-7, 6.2.5).
 * Source: ISO 32000-2, 9.6.3 and 9.8.
 * @param file    bytes of the TrueType font of `labelFontFile`
 */
export function embeddedFont(context: PDFContext, file: Uint8Array, metrics: PDFFont): PDFRef {
  const outlines = context.register(
    PDFRawStream.of(context.obj({ Length1: file.length, Filter: 'FlateDecode' }), deflate(file)),
  )
  // Numbers of its tables head, hhea and OS/2 in thousandths of the em; the bit of Flags is Nonsymbolic.
  const descriptor = context.register(
    context.obj({
      Type: 'FontDescriptor',
      FontName: 'LiberationSans',
      Flags: 1 << 5,
      FontBBox: [-203, -303, 1050, 910],
      ItalicAngle: 0,
      Ascent: 905,
      Descent: -212,
      CapHeight: 688,
      StemV: 80,
      FontFile2: outlines,
    }),
  )
  return context.register(
    context.obj({
      Type: 'Font',
      Subtype: 'TrueType',
      BaseFont: 'LiberationSans',
      Encoding: 'WinAnsiEncoding',
      FirstChar: firstCode,
      LastChar: lastCode,
      Widths: Array.from({ length: lastCode - firstCode + 1 }, (_, i) => widthOf(firstCode + i, metrics)),
      FontDescriptor: descriptor,
    }),
  )
}

/** Width of a code of WinAnsiEncoding, thousandths of the em; of codes that stand for nothing 0. */
function widthOf(code: number, metrics: PDFFont): number {
  const letter = new TextDecoder('windows-1252').decode(Uint8Array.of(code))
  try {
    return metrics.widthOfTextAtSize(letter, 1000)
  } catch {
    return 0
  }
}
