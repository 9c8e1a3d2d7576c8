import type { PDFDict } from '../../base/pdf.ts'
import { dictOf, nameOf, numberOf } from './objects.ts'

/** What an Encrypt dictionary names, in words for messages (ISO 32000-2, 7.6.2 and 7.6.6). */
export function encryptionOf(encrypt: PDFDict): string {
  const handler = nameOf(encrypt, 'Filter') ?? 'unnamed'
  if (handler !== 'Standard') return `handler "${handler}"`
  const version = numberOf(encrypt, 'V') ?? 0
  if (version === 1) return 'RC4, 40 bits'
  if (version === 2 || version === 3) return `RC4, ${numberOf(encrypt, 'Length') ?? 40} bits`
  const filter = dictOf(dictOf(encrypt, 'CF'), nameOf(encrypt, 'StmF') ?? 'StdCF')
  const method = nameOf(filter, 'CFM')
  if (method === 'AESV3') return 'AES, 256 bits'
  if (method === 'AESV2') return 'AES, 128 bits'
  return method === 'V2' ? 'RC4, 128 bits' : `version ${version}`
}
