/** Steps back and forth through values of one kind; the present value lives with the owner. */
export interface History<T> {
  readonly past: readonly T[]
  readonly future: readonly T[]
  /** The gesture that is still going on: edits with the same key are one step. */
  readonly gesture: string | null
}

/** Deep enough for a day's work; a job is a few kilobytes. */
const depth = 500

export const noHistory: History<never> = { past: [], future: [], gesture: null }

/** History after `present` gave way to a new value. `gesture` null makes a step of its own. */
export function recorded<T>(history: History<T>, present: T, gesture: string | null): History<T> {
  if (gesture !== null && gesture === history.gesture) return { ...history, future: [] }
  return { past: [...history.past, present].slice(-depth), future: [], gesture }
}

/** The gesture has ended: the next edit starts a new step. */
export function settled<T>(history: History<T>): History<T> {
  return history.gesture === null ? history : { ...history, gesture: null }
}

/** One step back: the value to show and the history then; null when there is none. */
export function stepBack<T>(history: History<T>, present: T): { value: T; history: History<T> } | null {
  const value = history.past.at(-1)
  if (value === undefined) return null
  return {
    value,
    history: { past: history.past.slice(0, -1), future: [present, ...history.future], gesture: null },
  }
}

/** One step forward again; null when there is none. */
export function stepForward<T>(history: History<T>, present: T): { value: T; history: History<T> } | null {
  const value = history.future[0]
  if (value === undefined) return null
  return {
    value,
    history: { past: [...history.past, present], future: history.future.slice(1), gesture: null },
  }
}
