import type { BoxMm } from '../finding.ts'

/** A place that somebody marked: print to be read, or a code for a scanner. */
export interface Place {
  readonly name: string
  readonly kind: string
  readonly box: BoxMm
}
