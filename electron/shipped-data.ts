import { readFile } from 'node:fs/promises'
import type { PageData } from '../core/art/pdf/read-page.ts'
import { glyphThread } from './glyph-thread.ts'
import { openEngine, shippedProfile } from './press.ts'
import { shippedFile } from './shipped-file.ts'

/** What lies with the program for art that is drawn. */
export const shippedData: PageData = {
  glyphs: glyphThread(),
  codec: name => shippedFile('codecs', name),
  condition: async () => new Uint8Array(await readFile(shippedProfile)),
  engine: openEngine,
}
