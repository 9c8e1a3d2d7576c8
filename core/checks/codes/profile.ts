/** Reflectance along one scan line, 0..1 of a perfect diffuser, evenly spaced; quiet zones included. */
export type ScanProfile = ArrayLike<number>

/** A bar or a space as a scan line crosses it; samples from..to, `to` exclusive. */
export interface ScanElement {
  readonly kind: 'bar' | 'space'
  readonly from: number
  readonly to: number
  /** The extreme that the element reaches: a bar's least reflectance, a space's greatest. */
  readonly extreme: number
  /** Greatest difference between a peak and a valley inside the element; 0 where it only rises and falls once. */
  readonly nonuniformity: number
}

/** What a scan line is cut at, midway between its extremes (ISO/IEC 15416). */
export function globalThreshold(profile: ScanProfile): number {
  const [least, most] = extremesOf(profile)
  return (least + most) / 2
}

/** Bars and spaces of a scan line in order; the quiet zones are its first and last space. */
export function elementsOf(profile: ScanProfile): readonly ScanElement[] {
  const threshold = globalThreshold(profile)
  const found: ScanElement[] = []
  for (let from = 0; from < profile.length; ) {
    const bar = profile[from]! < threshold
    let to = from + 1
    while (to < profile.length && profile[to]! < threshold === bar) to++
    found.push(elementOf(profile, from, to, bar))
    from = to
  }
  return found
}

/**
 * Samples at which the profile crosses the threshold, between samples by a straight line: one fewer than elements.
 * @param elements of the same profile
 */
export function edgesOf(profile: ScanProfile, elements: readonly ScanElement[]): readonly number[] {
  const threshold = globalThreshold(profile)
  return elements.slice(1).map(({ from }) => {
    const [before, after] = [profile[from - 1]!, profile[from]!]
    return from - 1 + (threshold - before) / (after - before)
  })
}

export function extremesOf(profile: ScanProfile): readonly [least: number, most: number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = 0; i < profile.length; i++) {
    least = Math.min(least, profile[i]!)
    most = Math.max(most, profile[i]!)
  }
  return [least, most]
}

function elementOf(profile: ScanProfile, from: number, to: number, bar: boolean): ScanElement {
  const sign = bar ? -1 : 1
  const height = (i: number): number => sign * profile[i]!
  let extreme = Number.NEGATIVE_INFINITY
  for (let i = from; i < to; i++) extreme = Math.max(extreme, height(i))
  const nonuniformity = deepest(height, from, to, extreme)
  return { kind: bar ? 'bar' : 'space', from, to, extreme: sign * extreme, nonuniformity }
}

/**
 * On its way in and out every element comes from its neighbours: only what falls below a top on either side is a
 * valley. It counts from the highest top, but for the ripple of an edge, whose own tops are low: that counts from them.
 */
function deepest(height: (i: number) => number, from: number, to: number, extreme: number): number {
  const after = new Float64Array(to - from)
  for (let i = to - 1, top = height(i); i >= from; i--) {
    top = Math.max(top, height(i))
    after[i - from] = top
  }
  let found = 0
  let before = height(from)
  for (let i = from; i < to; i++) {
    const here = height(i)
    before = Math.max(before, here)
    const own = Math.min(before, after[i - from]!) - here
    const whole = extreme - here
    found = Math.max(found, own >= whole / 2 ? whole : own)
  }
  return found
}
