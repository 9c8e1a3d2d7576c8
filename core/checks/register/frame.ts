import type { Rings } from '../../base/polygons.ts'

/** Finished size, over which art is stretched. */
export interface FinishedSize {
  readonly widthMm: number
  readonly heightMm: number
}

/** The art's own edge. */
export const frameOf = ({ widthMm, heightMm }: FinishedSize): Rings => [
  [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ],
]
