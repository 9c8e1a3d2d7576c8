import { readFileSync } from 'node:fs'
import { labelFontFile } from '../../core/export/plate-font.ts'

/** The font of labels, from where the build takes it. */
export const labelFont = new Uint8Array(
  readFileSync(new URL(`../../node_modules/pdfjs-dist/${labelFontFile}`, import.meta.url)),
)
