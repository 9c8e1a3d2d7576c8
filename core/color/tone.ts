/**
 * Part of the display's range that is shown as it is. Paper white under the lamp lands on it at 0 stops,
 * so printed ink is never altered and everything above is a highlight.
 */
export const knee = 0.8

/** Stops over paper white between which a highlight turns from its own colour to white. */
export const whiteningStops: readonly [start: number, end: number] = [5, 12]

/**
 * Compresses a highlight. `m` is the largest linear component, ≥ 0; the result is in [0, 1):
 * m up to the knee k, above it 1 − (1−k)² / (m + 1 − 2k), which meets the line with the same slope.
 */
export function tone(m: number): number {
  if (m <= knee) return m
  return 1 - ((1 - knee) * (1 - knee)) / (m + 1 - 2 * knee)
}

/**
 * How far a highlight has gone to white, 0..1, by its largest linear component before {@link tone}.
 * Late on purpose: diffracted light is tens to hundreds of times brighter than paper and must keep its hue.
 */
export function whitening(m: number): number {
  const [start, end] = whiteningStops
  if (m <= knee * 2 ** start) return 0
  const t = Math.min(1, (Math.log2(m / knee) - start) / (end - start))
  return t * t * (3 - 2 * t)
}
