import { opacityOf, perfectScatter, underSurface } from './white.ts'

/** Opacity of a white as it was measured, every number 0..1. */
export type OpacityEntry =
  /** Contrast ratio: seen over black by seen over a chart of 0.89, one hit. */
  | { readonly from: 'contrast'; readonly value: number }
  /** Reflectance over black, gloss left out, one hit. */
  | { readonly from: 'overBlack'; readonly value: number }
  /** Contrast ratios of a step wedge printed with one and more hits. */
  | {
      readonly from: 'wedge'
      readonly patches: readonly { readonly hits: number; readonly contrast: number }[]
    }

/** Contrast ratio of one hit, 0..1, from any entry; the inverse of {@link opacityOf} as far as it is needed. */
export function contrastOf(entry: OpacityEntry): number {
  switch (entry.from) {
    case 'contrast':
      return entry.value
    case 'overBlack': {
      const film = underSurface(entry.value, 1)
      return film >= 1 ? 1 : opacityOf(Math.min(perfectScatter, film / (1 - film)))
    }
    case 'wedge':
      return opacityOf(scatterOfWedge(entry.patches))
  }
}

/** Scattering strength of one hit that fits the patches best: least squares of their contrast ratios. */
function scatterOfWedge(patches: readonly { readonly hits: number; readonly contrast: number }[]): number {
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
