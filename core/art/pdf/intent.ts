import { BadInput, type Finding } from '../../base/finding.ts'
import type { PDFDict } from '../../base/pdf.ts'
import type { InkPage } from '../ink/page.ts'
import type { PdfFile } from './document.ts'
import { arrayOf, asDict, items, nameOf, streamOf, textOf } from './objects.ts'
import { streamData } from './stream.ts'

/** Bytes of a profile; the largest that are in use have some 10 MB. */
const maxProfile = 64 * 1024 ** 2

/**
 * The print condition that a file is made for (ISO 32000-2, 14.11.5): the page's own first, then the document's; one for
 * printing (GTS_PDFX) before others. A profile that cannot be read is a finding.
 */
export function intentOf(file: PdfFile, page: PDFDict, findings: Finding[]): InkPage['outputIntent'] {
  const all = [page, file.catalog].flatMap(holder => items(arrayOf(holder, 'OutputIntents')).map(asDict))
  const intents = all.filter(intent => intent !== undefined)
  const intent = intents.find(one => nameOf(one, 'S') === 'GTS_PDFX') ?? intents[0]
  if (intent === undefined) return null
  const name =
    textOf(intent, 'OutputConditionIdentifier') ??
    textOf(intent, 'OutputCondition') ??
    textOf(intent, 'Info') ??
    'unnamed'
  const stream = streamOf(intent, 'DestOutputProfile')
  if (stream === undefined) return { name, profile: null }
  try {
    const data = streamData(file.name, stream, maxProfile, `output intent "${name}"`)
    if (data.whole && data.rest.length === 0) return { name, profile: data.bytes }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
  }
  findings.push({
    severity: 'warning',
    code: 'output-intent-damaged',
    where: `output intent "${name}"`,
    message: 'Its profile cannot be read.',
    fix: 'Choose the print condition in the job, or export the art anew.',
  })
  return { name, profile: null }
}
