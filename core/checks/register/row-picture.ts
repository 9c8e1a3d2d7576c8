import type { CoverageRows } from '../../material/coverage.ts'

/** How much of a group lies at each pixel, 0..1, read from the top. */
export interface RowPicture {
  readonly width: number
  readonly height: number
  readonly parts: readonly CoverageRows[]
}
