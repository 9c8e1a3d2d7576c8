/** A rest of time in words a person reads at a glance; `seconds` ≥ 0. */
export function remaining(seconds: number): string {
  if (seconds < 1) return 'almost done'
  const whole = Math.ceil(seconds)
  if (whole < 90) return `${whole} s left`
  const minutes = Math.ceil(seconds / 60)
  return minutes < 90 ? `${minutes} min left` : `${Math.ceil(minutes / 60)} h left`
}

/** Seconds that the rest takes, if it goes on as what is `done` (0..1) went in `elapsedS`. */
export const restOf = (elapsedS: number, done: number): number => elapsedS * (1 / Math.max(done, 1e-6) - 1)
