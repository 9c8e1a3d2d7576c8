import { BadInput } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'

interface Running {
  readonly stop: AbortController
  done: number
  what: string
}

/** Long work under way, by the id that the page gave it. */
export class RunningTasks {
  readonly #tasks = new Map<string, Running>()

  /** Runs work whose progress can be asked for and which can be stopped. Throws BadInput when the id is in use. */
  async run<T>(id: string, work: (task: Task) => Promise<T>): Promise<T> {
    if (this.#tasks.has(id))
      throw new BadInput('task-in-use', 'the work', `id ${id}`, 'is already under way', 'Wait for it to end')
    const running: Running = { stop: new AbortController(), done: 0, what: '' }
    this.#tasks.set(id, running)
    try {
      return await work({
        signal: running.stop.signal,
        progress: (done, what) => {
          running.done = Math.min(1, Math.max(running.done, done))
          running.what = what
        },
      })
    } finally {
      this.#tasks.delete(id)
    }
  }

  progress(id: string): { readonly done: number; readonly what: string } | null {
    const running = this.#tasks.get(id)
    return running === undefined ? null : { done: running.done, what: running.what }
  }

  stop(id: string): void {
    this.#tasks.get(id)?.stop.abort()
  }
}
