import type { Task } from '../../core/base/task.ts'
import type { Output } from './command.ts'

/** Long work that shows itself on the progress line and stops when the user interrupts. */
export function progressTask(output: Output, what: string): Task {
  return {
    signal: output.signal,
    progress: (done, detail) => output.progress(`${what}: ${detail} ${Math.floor(done * 100)} %`),
  }
}

/** A rest of time in words a person reads at a glance; `seconds` ≥ 0. */
export function remaining(seconds: number): string {
  if (seconds < 1) return 'almost done'
  const whole = Math.ceil(seconds)
  if (whole < 90) return `${whole} s left`
  const minutes = Math.ceil(seconds / 60)
  return minutes < 90 ? `${minutes} min left` : `${Math.ceil(minutes / 60)} h left`
}
