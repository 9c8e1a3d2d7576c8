import { randomUUID } from 'node:crypto'
import type { ArtFile } from '../core/art/layer.ts'
import type { Task } from '../core/base/task.ts'
import type { CheckPart } from '../core/checks/input.ts'
import { knownLimits } from '../core/checks/known-limits.ts'
import { type CheckList, runChecks } from '../core/checks/run.ts'
import { type CheckedWork, checkInput, requireLimits, toldFindings } from '../core/job/check-input.ts'
import type { JobWork } from './art-work.ts'
import { LiveWork } from './live-work.ts'
import { partOf } from './task-part.ts'

/** A job's art and map with what was found in them. */
export interface CheckedJob extends CheckedWork {
  readonly list: CheckList
}

/** Checks jobs one after another; the map follows edits, so that a second look costs less than the first. */
export class CheckWork {
  readonly #live = new LiveWork()

  /** @param parts asked for at the first check */
  constructor(readonly parts: () => Promise<readonly CheckPart[]>) {}

  /** Rejects with BadInput for a job that cannot be checked, Cancelled when told to stop. */
  async check(file: ArtFile, work: JobWork, task?: Task): Promise<CheckedJob> {
    const { job } = work
    requireLimits(job, knownLimits)
    const id = randomUUID()
    const { shown, assigned, findings } = await this.#live.build(
      file,
      work,
      { id, from: null, soon: false },
      partOf(task, 0, 0.3),
    )
    if (shown.kind !== 'whole') throw new Error('a map that nobody held came in part')
    const [map] = shown.levels
    const made = { art: file.art, file: job.art === null ? null : file, assigned, map: map! }
    const list = await runChecks(
      checkInput(job, made),
      await this.parts(),
      job.waivers,
      partOf(task, 0.3, 1),
      toldFindings(job, file.art, [...file.art.findings, ...findings]),
    )
    return { ...made, list }
  }
}
