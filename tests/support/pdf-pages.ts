import { clearPages } from './pdf-pages/clear.ts'
import { inkPages } from './pdf-pages/inks.ts'
import { wholePages } from './pdf-pages/page.ts'
import { paintPages } from './pdf-pages/paint.ts'
import { picturePages } from './pdf-pages/pictures.ts'
import { typePages } from './pdf-pages/type.ts'

/** Pages of PDF that show one feature each, and some with all of them: a file of one page by its name. */
export const pdfPages = {
  ...inkPages,
  ...clearPages,
  ...paintPages,
  ...picturePages,
  ...typePages,
  ...wholePages,
} as const

export type PdfPageName = keyof typeof pdfPages
export const pdfPageNames = Object.keys(pdfPages) as readonly PdfPageName[]
