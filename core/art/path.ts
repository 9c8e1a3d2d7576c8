/** x' = a x + c y + e, y' = b x + d y + f: [a, b, c, d, e, f], as PDF and SVG write it. */
export type Matrix = readonly [number, number, number, number, number, number]

/** Steps of a path, one a byte of `Path.steps`. */
export const pathStep = { move: 0, line: 1, curve: 2, close: 3 } as const

/**
 * Lines and cubic curves. `steps` are {@link pathStep}s; `points` holds x, y of each in turn: one point a move or a line,
 * three a curve (two controls, the end), none a close. On a page: mm from its lower left corner, y up.
 */
export interface Path {
  readonly steps: Uint8Array
  readonly points: Float64Array
}

export type FillRule = 'nonzero' | 'evenodd'
