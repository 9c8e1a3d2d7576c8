import { PDFDocument, PDFName, type PDFRef } from '../../base/pdf.ts'
import { displayProfile } from '../../color/icc-write.ts'
import { differences } from '../tiff.ts'
import { Faces } from './faces.ts'
import { Flow, type SheetPicture, styles } from './flow.ts'
import { border, columnWidth, paper } from './paper.ts'

/** What a document says of itself. */
export interface DocumentWords {
  readonly title: string
  readonly subject: string
  /** Name and version of the program. */
  readonly producer: string
  /** ISO 8601, UTC: the same input and time give the same bytes. */
  readonly madeAt: string
  /** At the foot of every page, on the left. */
  readonly foot: string
}

/** Pages of A4 that `draw` fills, with numbers at their feet. */
export async function makePdf(
  words: DocumentWords,
  draw: (flow: Flow) => void,
): Promise<Uint8Array<ArrayBuffer>> {
  const pdf = await PDFDocument.create({ updateMetadata: false })
  const faces = await Faces.open(pdf)
  const flow = new Flow(faces)
  draw(flow)
  numberPages(flow, words.foot)
  addPages(pdf, flow, faces)
  const at = new Date(words.madeAt)
  pdf.setTitle(words.title, { showInWindowTitleBar: true })
  pdf.setSubject(words.subject)
  pdf.setProducer(words.producer)
  pdf.setCreator(words.producer)
  pdf.setLanguage('en')
  pdf.setCreationDate(at)
  pdf.setModificationDate(at)
  return Uint8Array.from(
    await pdf.save({ useObjectStreams: false, addDefaultPage: false, updateFieldAppearances: false }),
  )
}

function numberPages(flow: Flow, foot: string): void {
  const style = styles.caption
  const y = paper.height - border.bottom / 2
  for (const [i, page] of flow.pages.entries()) {
    const number = `Page ${i + 1} of ${flow.pages.length}`
    const wide = flow.faces.width(number, style.face, style.size)
    const [words = ''] = flow.lines(foot, style, columnWidth - wide - 20)
    flow.put(words, border.left, y, style, page)
    flow.put(number, paper.width - border.right - wide, y, style, page)
  }
}

function addPages(pdf: PDFDocument, flow: Flow, faces: Faces): void {
  const { context } = pdf
  const fonts = context.obj({})
  for (const [key, font] of faces.entries()) fonts.set(PDFName.of(key), font.ref)
  const images = new Map<SheetPicture, PDFRef>()
  const profile = profileOf(pdf)
  for (const { operators, pictures } of flow.pages) {
    const page = pdf.addPage([paper.width, paper.height])
    const shown = context.obj({})
    for (const [i, picture] of pictures.entries()) {
      const known = images.get(picture) ?? imageOf(pdf, picture, profile)
      images.set(picture, known)
      shown.set(PDFName.of(`P${i}`), known)
    }
    page.node.set(PDFName.of('Resources'), context.obj({ Font: fonts, XObject: shown }))
    const content = stream(pdf, new TextEncoder().encode(operators.join('\n')), {})
    page.node.set(PDFName.of('Contents'), content)
  }
}

/** Pictures say that their numbers are sRGB. Source: ISO 32000-2:2020, 8.6.5.5. */
function profileOf(pdf: PDFDocument): PDFRef {
  return stream(pdf, displayProfile('srgb'), { N: 3, Alternate: 'DeviceRGB' })
}

/** Source: ISO 32000-2:2020, 8.9.5 (images) and 7.4.4.4 (predictor 2). */
function imageOf(pdf: PDFDocument, { width, height, rgb }: SheetPicture, profile: PDFRef): PDFRef {
  return stream(pdf, differences(rgb, width, 3), {
    Type: 'XObject',
    Subtype: 'Image',
    Width: width,
    Height: height,
    BitsPerComponent: 8,
    ColorSpace: ['ICCBased', profile],
    DecodeParms: { Predictor: 2, Colors: 3, BitsPerComponent: 8, Columns: width },
  })
}

type Entries = Parameters<PDFDocument['context']['flateStream']>[1]

function stream({ context }: PDFDocument, bytes: Uint8Array, entries: Entries): PDFRef {
  return context.register(context.flateStream(bytes, entries))
}
