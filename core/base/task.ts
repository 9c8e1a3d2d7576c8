/** What long work is given: where to report, and how it is told to stop. */
export interface Task {
  /** `done` in [0, 1]; `what` is a few words for the progress line. */
  readonly progress?: (done: number, what: string) => void
  readonly signal?: AbortSignal
}

/** Thrown by long work that was told to stop. */
export class Cancelled extends Error {
  override readonly name = 'Cancelled'
  constructor() {
    super('cancelled')
  }
}

/** Call between units of work; throws {@link Cancelled} once the signal is set. */
export function checkCancelled(task: Task | undefined): void {
  if (task?.signal?.aborted) throw new Cancelled()
}

/** The task of one part of longer work: its 0..1 is `from`..`to` of the whole. */
export function partOf(task: Task | undefined, from: number, to: number): Task {
  return {
    ...(task?.signal === undefined ? {} : { signal: task.signal }),
    progress: (done, what) => task?.progress?.(from + (to - from) * done, what),
  }
}
