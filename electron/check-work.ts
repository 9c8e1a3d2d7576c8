import { randomUUID } from 'node:crypto'
import { holdPictures } from '../core/art/held-picture.ts'
import type { ArtFile } from '../core/art/layer.ts'
import type { Finding } from '../core/base/finding.ts'
import { partOf, type Task } from '../core/base/task.ts'
import type { CheckInput, CheckPart } from '../core/checks/input.ts'
import { Keeper } from '../core/checks/keeper.ts'
import { knownLimits } from '../core/checks/known-limits.ts'
import { type CheckList, runChecks } from '../core/checks/run.ts'
import { type CheckedWork, checkInput, requireLimits, toldFindings } from '../core/job/check-input.ts'
import { dropRoomOrders } from '../core/reference/room-orders.ts'
import type { JobWork } from './art-work.ts'
import { KeptTables } from './kept-tables.ts'
import { LiveWork } from './live-work.ts'

/** A job as the checks read it, and what was said while it was worked out. */
export interface ReadyJob {
  readonly made: CheckedWork
  readonly input: CheckInput
  readonly findings: readonly Finding[]
}

/** A job's art and map with what was found in them. */
export interface CheckedJob extends CheckedWork {
  readonly list: CheckList
}

/** Checks jobs one after another. The map follows edits, and what a check came to is kept for as long as it would again. */
export class CheckWork {
  readonly #live = new LiveWork('finest')
  readonly #tables = new KeptTables()
  readonly #keeper = new Keeper()

  /** Parts keep some of what they found themselves, so they stay the same ones. */
  #parts: Promise<readonly CheckPart[]> | null = null

  /** @param parts asked for at the first check */
  constructor(readonly parts: () => Promise<readonly CheckPart[]>) {}

  /** Rejects with BadInput for a job that cannot be checked, Cancelled when told to stop. */
  async check(file: ArtFile, work: JobWork, task?: Task): Promise<CheckedJob> {
    const letGo = holdPictures(file)
    try {
      const { made, input, findings } = await this.ready(file, work, partOf(task, 0, 0.3))
      this.#parts ??= this.parts()
      const list = await runChecks(
        input,
        await this.#parts,
        work.job.waivers,
        partOf(task, 0.3, 1),
        toldFindings(work.job, file.art, [...file.art.findings, ...findings]),
      )
      for (const tables of input.sets) dropRoomOrders(tables)
      return { ...made, list }
    } finally {
      letGo()
      file.release?.()
    }
  }

  /** What every check and every picture of one reads. Rejects as `check` does. */
  async ready(file: ArtFile, work: JobWork, task?: Task): Promise<ReadyJob> {
    const { job } = work
    requireLimits(job, knownLimits)
    const id = randomUUID()
    const { shown, assigned, findings } = await this.#live.build(
      file,
      work,
      { id, from: null, soon: false },
      task,
    )
    if (shown.kind !== 'whole') throw new Error('a map that nobody held came in part')
    const [map] = shown.levels
    const made = { art: file.art, file: job.art === null ? null : file, assigned, map: map! }
    const input = checkInput(job, made, baking => this.#tables.of(baking))
    return { made, input: this.#keeper.open(input), findings }
  }
}
