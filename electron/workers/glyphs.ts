import { readGlyphs } from '../../core/base/glyph-reader.ts'
import type { GlyphCrafts } from '../glyph-thread.ts'
import { shippedFile } from '../shipped-file.ts'
import { serveWork } from '../worker-side.ts'

serveWork<GlyphCrafts>({
  async read({ pdf }) {
    return { value: await readGlyphs(pdf, name => shippedFile('fonts', name)) }
  },
})
