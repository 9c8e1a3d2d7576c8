import type { Surface } from '../art/composite.ts'
import type { Box } from '../art/layer.ts'

/** What of a coverage its reader looks at: how much, also where anything is painted, or also its colours. */
export type Need = 'amount' | 'alpha' | 'colour'

/** An amount 0..1 over document pixels, row by row, and what was painted there: none for channels and outlines, without colours where nobody needs them. */
export interface Coverage {
  readonly box: Box
  readonly data: Float32Array
  readonly surface: Surface | null
}

/** An amount read by document rows from top to bottom. */
export interface CoverageRows {
  /** The rows top..bottom where there can be any; null when there are none. `top` never goes back. */
  over(top: number, bottom: number): Promise<Coverage | null>
}
