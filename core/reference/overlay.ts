/** How the three leaves of a job lie on one another: the embossed board, the white, the overprint. */
export interface Overlay {
  /** How far they are lifted apart, 0..1. */
  readonly lift: number
  /** Which are there. */
  readonly shown: { readonly board: boolean; readonly white: boolean; readonly overprint: boolean }
  /** All printed on the board, or white and overprint on a clear film that lies on it. */
  readonly laid: 'print' | 'film'
  readonly film: Film
}

/** A clear film that carries white on its back and overprint on its front. */
export interface Film {
  readonly thicknessMm: number
  /** Refractive index. */
  readonly index: number
  /** Rms slope of its surfaces. */
  readonly roughness: number
  /** Air between board and film. */
  readonly gapMm: number
  /** Where the hand laid it: to the right and up, mm. */
  readonly registerMm: readonly [number, number]
}

/** Smallest and largest numbers that a film may have; its place to either side and way. */
export const filmLimits = {
  thicknessMm: [0.01, 1],
  index: [1.3, 1.8],
  roughness: [0.001, 0.3],
  gapMm: [0, 0.5],
  registerMm: [-5, 5],
} as const

/** All on the board, as it is printed; what the film would be is kept. */
export const asPrinted: Overlay = {
  lift: 0,
  shown: { board: true, white: true, overprint: true },
  laid: 'print',
  film: { thicknessMm: 0.1, index: 1.5, roughness: 0.01, gapMm: 0.05, registerMm: [0, 0] },
}

/** Whether board, white and overprint are all there, printed on one another. */
export function isPrint({ lift, shown, laid }: Overlay = asPrinted): boolean {
  return laid === 'print' && lift === 0 && shown.board && shown.white && shown.overprint
}

/** Reflectance of a film of two surfaces, all reflections between them: 2F/(1 + F). Its light passes by 1 less that. */
export function filmReflectance(F: number): number {
  return (2 * F) / (1 + F)
}
