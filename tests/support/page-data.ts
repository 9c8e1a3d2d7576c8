import { readFile } from 'node:fs/promises'
import type { PageData } from '../../core/art/pdf/read-page.ts'
import { readGlyphs } from '../../core/base/glyph-reader.ts'
import { openColorEngine } from '../../core/color/profile.ts'
import { shippedCodec, shippedCondition } from './pdf-reading.ts'

const packageFolder = new URL('../../node_modules/pdfjs-dist/', import.meta.url)
const engine = openColorEngine()

/** What pages are read by, from where the build takes it. */
export const pageData: PageData = {
  glyphs: pdf => readGlyphs(pdf, async name => new Uint8Array(await readFile(new URL(name, packageFolder)))),
  codec: shippedCodec,
  condition: async () => shippedCondition,
  engine: () => engine,
}
