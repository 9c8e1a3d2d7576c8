import type { Task } from '../core/base/task.ts'

/** The task of one part of longer work: its 0..1 is `from`..`to` of the whole. */
export function partOf(task: Task | undefined, from: number, to: number): Task {
  return {
    ...(task?.signal === undefined ? {} : { signal: task.signal }),
    progress: (done, what) => task?.progress?.(from + (to - from) * done, what),
  }
}
