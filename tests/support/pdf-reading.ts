import { readFileSync } from 'node:fs'
import { makeInkSet } from '../../core/art/pdf/ink-set.ts'
import type { Reading } from '../../core/art/pdf/reading.ts'
import { makeSeparator } from '../../core/art/pdf/separate.ts'
import type { Finding } from '../../core/base/finding.ts'
import { openImageCodecs } from '../../core/base/image-codecs.ts'
import { PDFDict, PDFDocument, PDFName, type PDFObject } from '../../core/base/pdf.ts'
import { openColorEngine } from '../../core/color/profile.ts'
import { onePage, type PdfText } from './pdf-write.ts'

const root = new URL('../../', import.meta.url)

/** The print condition that ships. */
export const shippedCondition = new Uint8Array(
  readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root)),
)

/** Programs of the picture decoders, as the build ships them. */
export const shippedCodec = async (name: string): Promise<Uint8Array> =>
  new Uint8Array(readFileSync(new URL(`node_modules/pdfjs-dist/wasm/${name}`, root)))

const engine = await openColorEngine()

export interface ReadObjects extends Reading {
  readonly resources: PDFDict
  /** An entry of the page's resources. */
  readonly object: (name: string) => PDFObject
}

/**
 * What parts of the PDF reader are given, over a document of one page whose resources are `entries`.
 * Call `close` when done.
 */
export async function readingOf(
  entries: (pdf: PdfText) => string,
  aim: Reading['aim'] = 'inks',
): Promise<ReadObjects & { close(): void }> {
  const bytes = onePage(pdf => ({ content: '', resources: entries(pdf) }))
  const document = await PDFDocument.load(bytes)
  const resources = document.getPage(0).node.Resources()
  if (!(resources instanceof PDFDict)) throw new Error('the page has no resources')
  const findings: Finding[] = []
  const separator = makeSeparator(engine, shippedCondition, 'page.pdf', findings)
  return {
    context: document.context,
    file: 'page.pdf',
    inks: makeInkSet('page.pdf'),
    aim,
    light: null,
    separator,
    codecs: openImageCodecs(shippedCodec),
    findings,
    inexact: [],
    task: undefined,
    resources,
    object: name => {
      const found = resources.get(PDFName.of(name))
      if (found === undefined) throw new Error(`no ${name} among the resources`)
      return found
    },
    close: () => separator.close(),
  }
}
