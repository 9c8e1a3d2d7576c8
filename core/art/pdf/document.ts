import { BadInput } from '../../base/finding.ts'
import { type PDFContext, type PDFDict, PDFDocument } from '../../base/pdf.ts'
import type { ByteSource } from '../../base/source.ts'
import { encryptionOf } from './encryption.ts'
import { guardSizes, refuseCut } from './guard.ts'
import { asDict, dictOf } from './objects.ts'
import { type PdfPage, pagesBelow } from './pages.ts'

/** A PDF that is open: its objects without encryption. */
export interface PdfFile {
  readonly name: string
  readonly context: PDFContext
  readonly catalog: PDFDict
  readonly pages: readonly PdfPage[]
  /** What encrypted it, in words; null where nothing did. */
  readonly encryptedBy: string | null
}

/** Bytes; a PDF is held whole. */
const maxFile = 1024 ** 3

/**
 * Opens a PDF (ISO 32000-2).
 * @param password  of its user or owner; where a file is encrypted so that anybody may look at it none is needed
 * @throws BadInput `not-pdf`, `pdf-cut`, `pdf-damaged`, `pdf-too-large`, `password-needed`, `password-wrong`,
 *   `pdf-encryption-unknown`, `pdf-no-pages`
 */
export async function openPdf(source: ByteSource, password: string | null): Promise<PdfFile> {
  const { name } = source
  if (source.size > maxFile)
    throw new BadInput(
      'pdf-too-large',
      name,
      'whole file',
      `is ${Math.round(source.size / 1e6)} MB; at most ${Math.round(maxFile / 1e6)} MB can be read`,
      'Export the page of the carton alone, with pictures at the resolution that they are printed in.',
    )
  const bytes = await source.read(0, source.size)
  refuseCut(name, bytes)
  guardSizes(name, bytes)
  const { document, encryptedBy } = await load(name, bytes, password)
  const catalog = asDict(document.context.lookup(document.context.trailerInfo.Root))
  if (catalog === undefined || dictOf(catalog, 'Pages') === undefined)
    throw damaged(name, 'trailer', 'no catalog of pages can be found')
  const pages = pagesBelow(dictOf(catalog, 'Pages'))
  if (pages.length === 0)
    throw new BadInput('pdf-no-pages', name, 'catalog', 'has no pages', 'Export the art anew as PDF.')
  return { name, context: document.context, catalog, pages, encryptedBy }
}

async function load(name: string, bytes: Uint8Array, password: string | null) {
  const options = { updateMetadata: false, parseSpeed: Number.POSITIVE_INFINITY }
  let plain: PDFDocument
  try {
    plain = await PDFDocument.load(bytes, { ...options, ignoreEncryption: true })
  } catch (error) {
    throw damaged(name, 'objects', `cannot be taken apart (${reasonOf(error)})`)
  }
  const { context } = plain
  const dict = asDict(context.lookup(context.trailerInfo.Encrypt))
  if (dict === undefined) return { document: plain, encryptedBy: null }
  const encryptedBy = encryptionOf(dict)
  try {
    const document = await PDFDocument.load(bytes, { ...options, password: password ?? '' })
    return { document, encryptedBy }
  } catch (error) {
    throw lockedOut(name, encryptedBy, reasonOf(error), password)
  }
}

/** The reader says why in words of its own; what it cannot undo at all is told apart from a wrong password. */
function lockedOut(name: string, by: string, reason: string, password: string | null): BadInput {
  const asked = 'Give the password that opens it, or ask for a file without one.'
  if (/NEEDS PASSWORD/i.test(reason) || (/incorrect/i.test(reason) && !password))
    return new BadInput('password-needed', name, 'encryption', `is locked by a password (${by})`, asked)
  if (/incorrect/i.test(reason))
    return new BadInput('password-wrong', name, 'encryption', `does not open by this password (${by})`, asked)
  return new BadInput(
    'pdf-encryption-unknown',
    name,
    'encryption',
    `is encrypted in a way that cannot be undone here (${by})`,
    'Ask for a file that is not encrypted.',
  )
}

export function damaged(name: string, where: string, problem: string): BadInput {
  return new BadInput(
    'pdf-damaged',
    name,
    where,
    problem,
    'Export the art anew as PDF, or ask for a fresh copy.',
  )
}

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
