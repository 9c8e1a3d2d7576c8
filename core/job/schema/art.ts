import * as v from 'valibot'
import { drawnPpiRange } from '../../art/drawn.ts'
import { fields, list, oneOf, range, sha256, text, tooMany, wants } from './value.ts'

/** A carton has some dozen plates; a file of more pages than this is no carton. */
const mostBeside = 64
const mostPages = 10_000

const path = text('the path of the art')

/** The art of a job, and how it is read. */
export const art = fields({
  path,
  sha256,
  page: v.exactOptional(v.pipe(range(1, mostPages), v.integer(wants('a whole number')))),
  ppi: v.exactOptional(range(...drawnPpiRange, 'ppi')),
  readAs: v.exactOptional(oneOf(['inks', 'layers'])),
  beside: v.exactOptional(
    v.pipe(
      list(fields({ path, sha256 })),
      v.maxLength(mostBeside, issue => tooMany(mostBeside, 'files beside the art', issue)),
    ),
  ),
})
