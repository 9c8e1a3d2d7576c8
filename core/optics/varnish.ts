import type { Board } from './scene.ts'

/*
 * A matte varnish turns light aside on the way in and on the way out. To the orders and the mirror below it that is one
 * more waviness: a surface that leans by s turns a ray's tangential direction by s (l_z + v_z), a varnish that turns it
 * by σ twice adds 2 σ² straight on, so s² = σ² / 2. Where varnish lies on part of a spot (the edge of a plate, a screen,
 * a coarser level of the map), the two parts keep a kernel each and are mixed by area. One kernel of the mean variance
 * would be cheaper there, but takes the glint out of the bare half: at half coverage under a varnish of 50 mrad it
 * leaves 0.02 of the peak that two parts keep half of.
 */

/** Variance of the waviness that straight light meets: bare, and under varnish. */
export function wavinessVariances({
  waviness,
  varnishScatter,
}: Pick<Board, 'waviness' | 'varnishScatter'>): readonly [bare: number, varnished: number] {
  return [waviness ** 2, waviness ** 2 + varnishScatter ** 2 / 2]
}

/** The board with its straight light as it is under varnish. */
export function underVarnish(board: Board): Board {
  return { ...board, waviness: Math.sqrt(wavinessVariances(board)[1]) }
}

/** Part of a spot, and the board that its straight light meets. */
export interface CoatedPart {
  readonly part: number
  readonly board: Board
}

/** The parts of a spot whose straight light is blurred alike; one where varnish changes nothing or lies everywhere. */
export function coatedParts(board: Board, varnish: number): readonly [CoatedPart, ...CoatedPart[]] {
  if (varnish <= 0 || board.varnishScatter <= 0) return [{ part: 1, board }]
  const matte = underVarnish(board)
  if (varnish >= 1) return [{ part: 1, board: matte }]
  return [
    { part: 1 - varnish, board },
    { part: varnish, board: matte },
  ]
}
