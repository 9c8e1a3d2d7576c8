import { decode, rgbSpaces } from '../../color/rgb.ts'
import { type HeldView, tiltOf } from './view.ts'

/**
 * Ratio of the lighter to the darker luminance, both with the flare that lies over them added: ≥ 1.
 * With flare 0.05 of white it is the contrast ratio of WCAG 2.2, which speaks of screens; for print it is a proposal
 * of ours, with luminance factors: parts of a perfect white that is lit and held in the same way.
 */
export function contrastRatio(one: number, other: number, flare: number): number {
  return (Math.max(one, other) + flare) / (Math.min(one, other) + flare)
}

/** Relative luminance of an sRGB code triple 0..1, WCAG 2.2, "relative luminance". */
export function relativeLuminance(codes: readonly [number, number, number]): number {
  const m = rgbSpaces.srgb.toXyz
  return codes.reduce((sum, code, i) => sum + m[3 + i]! * decode(code), 0)
}

/** Type against what is around it, seen in all views. */
export interface ContrastSum {
  readonly least: number
  /** Weighted: one view in twenty is worse. */
  readonly fifthPercentile: number
  /** Part of the views, by weight, whose contrast is below the limit. */
  readonly below: number
  /** Part of the views, by weight, in which light and dark have changed places. */
  readonly reversed: number
  /** What the type is over against its surroundings, as it was drawn. */
  readonly drawn: 'darker' | 'lighter'
  /** Index of the view of least contrast. */
  readonly worst: number
  readonly curve: readonly TiltContrast[]
  /** Contrast in each view, and 1 where light and dark have changed places; NaN and 0 where it is not seen. */
  readonly ratios: Float32Array
  readonly exchanged: Uint8Array
}

/** Contrast over everything that has one tilt. */
export interface TiltContrast {
  readonly tiltDeg: number
  readonly least: number
  /** Weighted mean of its logarithm, as a ratio. */
  readonly mean: number
  readonly below: number
  readonly reversed: number
}

/**
 * Sums a type object's contrast; null where no view shows it lit.
 * @param ink, ground luminance factor of both in each view, NaN where unseen or unlit
 * @param drawn       null: whichever holds in most of the views
 * @param flare       luminance factor
 */
export function sumContrast(
  views: readonly HeldView[],
  ink: ArrayLike<number>,
  ground: ArrayLike<number>,
  { limit, flare, drawn }: { limit: number; flare: number; drawn: ContrastSum['drawn'] | null },
): ContrastSum | null {
  const seen = views.flatMap(({ pose, weight }, view) => {
    const [a, b] = [ink[view]!, ground[view]!]
    if (Number.isNaN(a) || Number.isNaN(b) || weight === 0) return []
    return [{ view, weight, tilt: tiltOf(pose), contrast: contrastRatio(a, b, flare), lighter: a > b }]
  })
  const [first] = seen
  if (first === undefined) return null
  const all = total(seen)
  const lighterShare = total(seen.filter(one => one.lighter)) / all
  const as = drawn ?? (lighterShare > 0.5 ? 'lighter' : 'darker')
  // Where both are alike to the eye's last step nothing has changed places.
  const isExchanged = (one: SeenView) => one.lighter !== (as === 'lighter') && one.contrast > alike
  const sums = (some: readonly SeenView[]) => ({
    below: total(some.filter(one => one.contrast < limit)) / total(some),
    reversed: total(some.filter(isExchanged)) / total(some),
  })
  const ratios = new Float32Array(views.length).fill(Number.NaN)
  const exchanged = new Uint8Array(views.length)
  for (const one of seen) {
    ratios[one.view] = one.contrast
    exchanged[one.view] = Number(isExchanged(one))
  }
  const sorted = [...seen].sort((a, b) => a.contrast - b.contrast)
  const curve = [...byTilt(seen)]
    .sort(([a], [b]) => a - b)
    .map(([tiltDeg, some]) => ({
      tiltDeg,
      least: Math.min(...some.map(one => one.contrast)),
      mean: Math.exp(some.reduce((sum, one) => sum + one.weight * Math.log(one.contrast), 0) / total(some)),
      ...sums(some),
    }))
  return {
    least: sorted[0]!.contrast,
    worst: sorted[0]!.view,
    fifthPercentile: percentile(sorted, 0.05 * all),
    ...sums(seen),
    drawn: as,
    curve,
    ratios,
    exchanged,
  }
}

/** Contrast under which neither is called the lighter; about the least that an eye tells, common practice, no source. */
const alike = 1.02

interface SeenView {
  readonly view: number
  readonly weight: number
  readonly tilt: number
  readonly contrast: number
  readonly lighter: boolean
}

/** By tilt, to a tenth of a degree. */
function byTilt(seen: readonly SeenView[]): ReadonlyMap<number, readonly SeenView[]> {
  const groups = new Map<number, SeenView[]>()
  for (const one of seen) {
    const tilt = Math.round(one.tilt * 10) / 10
    const group = groups.get(tilt)
    if (group === undefined) groups.set(tilt, [one])
    else group.push(one)
  }
  return groups
}

const total = (some: readonly { readonly weight: number }[]): number =>
  some.reduce((sum, { weight }) => sum + weight, 0)

/** Least contrast that views of at least `weight` together do not exceed. */
function percentile(sorted: readonly SeenView[], weight: number): number {
  let sum = 0
  for (const one of sorted) {
    sum += one.weight
    if (sum >= weight) return one.contrast
  }
  return sorted.at(-1)!.contrast
}
