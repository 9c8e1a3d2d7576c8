import { spawnSync } from 'node:child_process'

/** Whether a program of the system is there; what asks it skips by name where it is not. */
export function hasTool(name: string, question: string): boolean {
  return spawnSync(name, [question], { stdio: 'ignore' }).error === undefined
}
