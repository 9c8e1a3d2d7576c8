import type { Task } from '../../core/base/task.ts'
import type { Output } from './command.ts'

/** Long work that shows itself on the progress line and stops when the user interrupts. */
export function progressTask(output: Output, what: string): Task {
  return {
    signal: output.signal,
    progress: (done, detail) => output.progress(`${what}: ${detail} ${Math.floor(done * 100)} %`),
  }
}
