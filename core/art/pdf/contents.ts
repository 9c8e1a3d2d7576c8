import { PDFArray, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import { items } from './objects.ts'
import type { Sheet } from './sheet.ts'
import { streamData } from './stream.ts'

/** Bytes of one content, unpacked: some five million operators. */
const maxContent = 128 * 1024 ** 2

/** Data of a content stream. What is damaged gives what came before, with a finding. */
export function contentOf(sheet: Sheet, stream: PDFRawStream, where: string): Uint8Array {
  const { bytes, whole, rest } = streamData(sheet.file, stream, maxContent, `page ${sheet.page}, ${where}`)
  if (!whole || rest.length > 0)
    sheet.say(
      'content-damaged',
      where,
      'Its drawing is damaged or cut; what comes after that place is missing.',
      'Export the art anew, or ask for a fresh copy.',
      'error',
    )
  return rest.length > 0 ? new Uint8Array(0) : bytes
}

/** All contents of a page as one: they are joined by white space, so that no word goes over an end (7.8.2). */
export function pageContent(sheet: Sheet, contents: PDFObject | undefined): Uint8Array {
  const streams = contents instanceof PDFArray ? items(contents) : [contents]
  const parts = streams.flatMap((stream, at) => {
    if (stream instanceof PDFRawStream) return [contentOf(sheet, stream, `content ${at + 1}`)]
    if (stream !== undefined || contents instanceof PDFArray)
      sheet.say(
        'content-missing',
        `content ${at + 1}`,
        'The page names drawing that is not in the file.',
        'Export the art anew, or ask for a fresh copy.',
        'error',
      )
    return []
  })
  if (contents === undefined)
    sheet.say(
      'page-empty',
      'contents',
      'The page has no drawing.',
      'Choose another page, or export the art anew.',
    )
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length + 1, 0)).fill(10)
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length + 1
  }
  return all
}
