/** Shape of a grating's grooves over one period; how deep they are is the grating's own number. */
export type Groove =
  | { readonly shape: 'sinusoid' }
  | {
      readonly shape: 'rectangular'
      /** Part of the period that lies high, 0..1, both left out. */
      readonly duty: number
    }
  | { readonly shape: 'blazed' }
  | {
      readonly shape: 'sampled'
      readonly name: string
      /** {@link profileSamples} heights over one period along the grating vector, 0 lowest, 1 highest. */
      readonly heights: readonly number[]
    }

export const grooveShapes = ['sinusoid', 'rectangular', 'blazed', 'sampled'] as const
export type GrooveShape = (typeof grooveShapes)[number]

/** Heights that a sampled groove has: enough for the orders −31…31. */
export const profileSamples = 64

export const sinusoid: Groove = { shape: 'sinusoid' }
export const blazed: Groove = { shape: 'blazed' }
export const rectangular = (duty = 0.5): Groove => ({ shape: 'rectangular', duty })

/**
 * A groove from heights at equal steps over one period, any number from 4 on, on any scale: brought to 0..1 and to
 * {@link profileSamples}, straight between the given ones and from the last back to the first.
 * @param values finite numbers, not all equal
 */
export function sampled(name: string, values: readonly number[]): Groove {
  const low = Math.min(...values)
  const high = Math.max(...values)
  const heights = Array.from({ length: profileSamples }, (_, i) => {
    const at = (i * values.length) / profileSamples
    const left = Math.floor(at)
    const before = values[left]!
    const value = before + (at - left) * (values[(left + 1) % values.length]! - before)
    return (value - low) / (high - low)
  })
  // Where no sample falls on the highest or lowest given value, the scale is made whole again: depth is peak to valley.
  const [bottom, top] = [Math.min(...heights), Math.max(...heights)]
  return { shape: 'sampled', name, heights: heights.map(h => (h - bottom) / (top - bottom)) }
}

/** Whether two grooves are the same shape; names do not count. */
export function sameGroove(a: Groove, b: Groove): boolean {
  if (a.shape === 'rectangular') return b.shape === 'rectangular' && a.duty === b.duty
  if (a.shape !== 'sampled') return a.shape === b.shape
  return b.shape === 'sampled' && a.heights.every((h, i) => h === b.heights[i])
}

/** Number of a groove in a list, which it joins when it is new there. */
export function grooveIndex(list: Groove[], groove: Groove): number {
  const at = list.findIndex(one => sameGroove(one, groove))
  return at < 0 ? list.push(groove) - 1 : at
}

/** Steepest step between neighbouring samples, in heights, that still counts as a smooth flank: twice a sinusoid's. */
const steepest = (2 * Math.PI) / profileSamples

/** Whether the groove has no steep flanks, so that it scatters like a gently waved surface. */
export function isSmooth(groove: Groove): boolean {
  switch (groove.shape) {
    case 'sinusoid':
      return true
    case 'rectangular':
    case 'blazed':
      return false
    case 'sampled':
      return groove.heights.every((h, i, all) => Math.abs(h - all[(i + 1) % all.length]!) <= steepest)
  }
}

/** The shape in words, as in "60 nm deep, sinusoid". */
export function grooveWords(groove: Groove): string {
  switch (groove.shape) {
    case 'sinusoid':
    case 'blazed':
      return groove.shape
    case 'rectangular':
      return `rectangular, ${Math.round(groove.duty * 100)} % high`
    case 'sampled':
      return `sampled profile "${groove.name}"`
  }
}
