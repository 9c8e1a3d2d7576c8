import type { EffectLimits, EffectWarning } from './effect.ts'
import { coarsestScattered, pitchRange } from './parameters.ts'

/** Finest line of one grating that reads as a line on a carton, mm; common practice, no source. */
export const finestLine = 0.2

/** Limits of a kind whose pitch may scatter, and therefore be coarse. */
export function limits(smallestMm: number, says: string): EffectLimits {
  return { smallestMm, pitchNm: [pitchRange[0], coarsestScattered], says }
}

/** Limits of a kind whose pitch follows from its design. */
export function designedLimits(smallestMm: number, says: string): EffectLimits {
  return { smallestMm, pitchNm: pitchRange, says }
}

/** What is to be said of cells finer than the map shows them; nothing where they are wide enough. */
export function cellWarnings(what: string, cellMm: number, pixelMm: number | undefined): EffectWarning[] {
  if (pixelMm === undefined || cellMm >= pixelMm) return []
  return [
    {
      code: 'finer-than-map',
      message: `its ${what} of ${round(cellMm)} mm are finer than a pixel of the map, ${round(pixelMm)} mm: the picture shows the mean of several as one`,
      fix: 'Raise the resolution of the map to see them apart, or make them wider.',
    },
  ]
}

const round = (mm: number): number => Number(mm.toPrecision(2))
