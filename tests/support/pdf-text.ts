import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** What an independent reader of PDF (poppler) says of a file. @param args of the program, without the file */
export function askPoppler(
  program: 'pdfinfo' | 'pdftotext' | 'pdffonts' | 'pdfimages',
  bytes: Uint8Array,
  ...args: string[]
): string {
  const folder = mkdtempSync(join(tmpdir(), 'pdf-'))
  try {
    const path = join(folder, 'a.pdf')
    writeFileSync(path, bytes)
    const more = program === 'pdftotext' ? ['-'] : []
    return execFileSync(program, [...args, path, ...more], { encoding: 'utf8' })
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** Its words, page by page, in the order of the file, blanks and line ends alike. */
export function pageTexts(bytes: Uint8Array): readonly string[] {
  const pages = askPoppler('pdftotext', bytes, '-raw').split('\f').slice(0, -1)
  return pages.map(text => text.replace(/\s+/g, ' ').trim())
}
