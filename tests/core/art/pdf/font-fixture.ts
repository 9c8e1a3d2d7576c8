import { readFile } from 'node:fs/promises'
import opentype from 'opentype.js'
import { openFonts } from '../../../../core/art/pdf/fonts.ts'
import type { OpenedFont } from '../../../../core/art/pdf/reading.ts'
import type { Finding } from '../../../../core/base/finding.ts'
import { type FontData, type ReadGlyphs, readGlyphs } from '../../../../core/base/glyph-reader.ts'
import { PDFDict, PDFDocument, PDFName } from '../../../../core/base/pdf.ts'
import { onePage, type PdfText } from '../../../support/pdf-write.ts'

const packageFolder = new URL('../../../../node_modules/pdfjs-dist/', import.meta.url)

/** The files that the build copies, from where they come. */
export const fontData: FontData = async name => new Uint8Array(await readFile(new URL(name, packageFolder)))

/** Bytes and the font as another library reads it: TrueType outlines, SIL Open Font License. */
export async function liberation(): Promise<{ bytes: Uint8Array; font: opentype.Font }> {
  const bytes = await fontData('standard_fonts/LiberationSans-Regular.ttf')
  return { bytes, font: opentype.parse(bytes.slice().buffer) }
}

/** Opens the one font of a page that `make` writes; strings are what it is to be shown for. */
export async function openOne(
  make: (pdf: PdfText) => string,
  strings: readonly Uint8Array[],
  read: ReadGlyphs = pdf => readGlyphs(pdf, fontData),
): Promise<{ font: OpenedFont; findings: readonly Finding[] }> {
  const bytes = onePage(pdf => ({ content: '', resources: `/Font << /F ${make(pdf)} >>` }))
  const document = await PDFDocument.load(bytes)
  const fonts = document.getPage(0).node.Resources()?.lookup(PDFName.of('Font'), PDFDict)
  const dict = fonts!.lookup(PDFName.of('F'), PDFDict)
  const findings: Finding[] = []
  const reading = { context: document.context, file: 'type.pdf', findings, task: undefined }
  const opened = await openFonts(reading, new Map([[dict, strings]]), read)
  return { font: opened.get(dict)!, findings }
}

export const coded = (text: string): Uint8Array => Uint8Array.from(text, one => one.charCodeAt(0))
