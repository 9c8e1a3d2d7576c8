import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { FontData } from '../core/base/glyph-reader.ts'
import { distFolder } from './places.ts'

/** Fonts that stand in for missing ones, and tables of character codes: copied to `dist` by the build. */
export const fontData: FontData = async name => {
  if (!/^(standard_fonts|cmaps)\/[\w-]+(\.\w+)?$/.test(name))
    throw new Error(`no font data is called "${name}"`)
  return new Uint8Array(await readFile(join(distFolder, 'fonts', name)))
}
