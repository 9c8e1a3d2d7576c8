import type { PDFDict, PDFObject } from '../../base/pdf.ts'
import { arrayOf, asDict, dictOf, items, look, nameOf } from './objects.ts'

/** A page with what it has from the nodes above it (ISO 32000-2, 7.7.3.4). */
export interface PdfPage {
  readonly dict: PDFDict
  readonly resources: PDFDict | null
  readonly mediaBox: PDFObject | undefined
  readonly cropBox: PDFObject | undefined
  readonly rotate: PDFObject | undefined
}

type Inherited = Omit<PdfPage, 'dict'>

const maxNodes = 20_000

/** Pages of the tree in their order. A node that is met again is passed over, so a ring ends. */
export function pagesBelow(root: PDFDict | undefined): readonly PdfPage[] {
  const pages: PdfPage[] = []
  const met = new Set<PDFDict>()
  const visit = (node: PDFDict, above: Inherited, depth: number): void => {
    if (met.has(node) || met.size >= maxNodes || depth > 64) return
    met.add(node)
    const own: Inherited = {
      resources: dictOf(node, 'Resources') ?? above.resources,
      mediaBox: look(node, 'MediaBox') ?? above.mediaBox,
      cropBox: look(node, 'CropBox') ?? above.cropBox,
      rotate: look(node, 'Rotate') ?? above.rotate,
    }
    const kids = arrayOf(node, 'Kids')
    if (kids === undefined || nameOf(node, 'Type') === 'Page') {
      pages.push({ dict: node, ...own })
      return
    }
    for (const kid of items(kids)) {
      const dict = asDict(kid)
      if (dict !== undefined) visit(dict, own, depth + 1)
    }
  }
  if (root !== undefined)
    visit(root, { resources: null, mediaBox: undefined, cropBox: undefined, rotate: undefined }, 0)
  return pages
}
