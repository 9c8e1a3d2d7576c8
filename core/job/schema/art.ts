import * as v from 'valibot'
import { drawnPpiRange } from '../../art/drawn/usual.ts'
import { fields, list, oneOf, range, sha256, text, tooMany, wants } from './value.ts'

/** A carton has some dozen plates; a file of more pages than this is no carton. */
const mostBeside = 64
const mostPages = 10_000

const path = text('the path of the art')

/** Files that make up the art together with the first. */
export const besideFiles = v.pipe(
  list(fields({ path, sha256 })),
  v.maxLength(mostBeside, issue => tooMany(mostBeside, 'files beside the art', issue)),
)

const readingFields = {
  page: v.exactOptional(v.pipe(range(1, mostPages), v.integer(wants('a whole number')))),
  ppi: v.exactOptional(range(...drawnPpiRange, 'ppi')),
  readAs: v.exactOptional(oneOf(['inks', 'layers'])),
  beside: v.exactOptional(besideFiles),
}

/** How the art of a job is read. */
export const artReading = fields(readingFields)

/** The art of a job. */
export const art = fields({ path, sha256, ...readingFields })
