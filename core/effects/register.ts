/** Whether holography keeps its place to the print. */
export type Register =
  | { readonly mode: 'registered' }
  | {
      readonly mode: 'continuous'
      /** Length after which the master repeats, mm. */
      readonly repeatMm: number
      /** Width of the seam between repeats, which has no grating, mm. */
      readonly seamMm: number
      /** Direction in which the web runs, degrees from the panel's right, counter-clockwise. */
      readonly directionDeg: number
      /** Which sheet is looked at: each has a place and phase of its own. 0 lies as designed. */
      readonly sheet: number
    }

export const registerRanges = {
  repeatMm: [5, 5000],
  seamMm: [0, 20],
  directionDeg: [-180, 180],
  sheet: [0, 1_000_000],
} as const satisfies Record<string, readonly [number, number]>
