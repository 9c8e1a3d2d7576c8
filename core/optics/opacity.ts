import { fresnel } from './fresnel.ts'
import { opacityOf, perfectScatter, scatterOf, throughSurface, underSurface, whiteFilm } from './white.ts'

/** Opacity of a white as it was measured, every number 0..1. */
export type OpacityEntry =
  /** Contrast ratio: seen over black by seen over a chart of 0.89, one hit. */
  | { readonly from: 'contrast'; readonly value: number }
  /** Reflectance over black against perfect white, lit at 45° and gloss left out, one hit. */
  | { readonly from: 'overBlack'; readonly value: number }
  /** Contrast ratios of a step wedge printed with one and more hits. */
  | {
      readonly from: 'wedge'
      readonly patches: readonly { readonly hits: number; readonly contrast: number }[]
    }

/** Share of the light that enters a film when it is lit at 45°, as in a 45/0 instrument. */
export const enteringAt45 = 1 - fresnel(Math.SQRT1_2, 1.5)

/** Contrast ratio of one hit, 0..1, from any entry; the inverse of {@link opacityOf} as far as it is needed. */
export function contrastOf(entry: OpacityEntry): number {
  switch (entry.from) {
    case 'contrast':
      return entry.value
    case 'overBlack': {
      // A perfect white under its surface reads what enters, 0.95: nothing brighter tells more.
      const film = underSurface(entry.value, enteringAt45)
      return film >= 1 ? 1 : opacityOf(Math.min(perfectScatter, film / (1 - film)))
    }
    case 'wedge':
      return wedgeFit(entry.patches).contrast
  }
}

/** The same white entered in another way. */
export function entryOf(from: OpacityEntry['from'], contrast: number): OpacityEntry {
  switch (from) {
    case 'contrast':
      return { from, value: contrast }
    case 'overBlack':
      return { from, value: throughSurface(whiteFilm(scatterOf(contrast)).R, enteringAt45) }
    case 'wedge':
      return { from, patches: [{ hits: 1, contrast }] }
  }
}

type Patch = { readonly hits: number; readonly contrast: number }

/** One scattering strength a hit, and how well it tells all patches of a wedge. */
export interface WedgeFit {
  /** Contrast ratio of one hit. */
  readonly contrast: number
  readonly patches: readonly (Patch & {
    readonly fitted: number
    /** Measured less fitted. */
    readonly residual: number
  })[]
  /** Root of the mean square residual. */
  readonly rms: number
}

/**
 * Fits a wedge by least squares of its contrast ratios: hits add their scattering strength, so one number tells all.
 * Forwardness of the pigment cannot be found from it: contrast ratios do not know what passes straight.
 */
export function wedgeFit(patches: readonly Patch[]): WedgeFit {
  const scatter = scatterOfWedge(patches)
  const told = patches.map(({ hits, contrast }) => {
    const fitted = opacityOf(scatter * hits)
    return { hits, contrast, fitted, residual: contrast - fitted }
  })
  const square = told.reduce((sum, { residual }) => sum + residual ** 2, 0)
  return { contrast: opacityOf(scatter), patches: told, rms: Math.sqrt(square / told.length) }
}

/** A residual that no reading error explains; readings repeat within 1 or 2 % (common practice, no source). */
export const wedgeTolerance = 0.03

/** Scattering strength of one hit that fits the patches best: least squares of their contrast ratios. */
function scatterOfWedge(patches: readonly Patch[]): number {
  const error = (log: number) =>
    patches.reduce((sum, { hits, contrast }) => sum + (opacityOf(Math.exp(log) * hits) - contrast) ** 2, 0)
  // The error of each patch has one valley, so a search by thirds of a fine grid's best cell finds the lowest.
  const [first, last, steps] = [-12, Math.log(perfectScatter), 400]
  let best = first
  for (let i = 0; i <= steps; i++) {
    const at = first + ((last - first) * i) / steps
    if (error(at) < error(best)) best = at
  }
  let low = best - (last - first) / steps
  let high = best + (last - first) / steps
  for (let i = 0; i < 60; i++) {
    const third = (high - low) / 3
    if (error(low + third) < error(high - third)) high -= third
    else low += third
  }
  return Math.exp((low + high) / 2)
}
