import { type CheckList, listed } from '../../core/checks/run.ts'
import type { Job } from '../../core/job/job.ts'
import type { Desk } from './open.ts'
import { type Checks, inSession } from './state.ts'
import { followProgress, isCancelled } from './work.ts'

/** Looks at the job as it stands now. One look at a time; what the last one found stays in sight until the next is done. */
export async function runChecks({ store, host }: Desk): Promise<void> {
  const { job, session } = store.get()
  if (job === null || session.art === null || session.checks.running !== null) return
  const taskId = crypto.randomUUID()
  const mine = (change: (checks: Checks) => Partial<Checks>): void =>
    store.set(state => {
      const { checks } = state.session
      return checks.running?.taskId === taskId
        ? inSession(state, { checks: { ...checks, ...change(checks) } })
        : state
    })
  store.set(state =>
    inSession(state, {
      checks: { ...state.session.checks, running: { taskId, done: null, what: '' }, failed: null },
    }),
  )
  const stop = followProgress(host, taskId, ({ done, what }) => {
    // Another job has been opened meanwhile: nobody waits for this one.
    if (store.get().session.checks.running?.taskId !== taskId) void give(taskId)
    mine(() => ({ running: { taskId, done, what } }))
  })
  try {
    const list = await host('runChecks', { fileId: session.art.file.id, taskId, job: { ...job } })
    mine(() => ({ list, of: job, running: null }))
  } catch (error) {
    const failed = isCancelled(error) ? null : error instanceof Error ? error.message : String(error)
    mine(() => ({ running: null, failed }))
  } finally {
    stop()
  }

  function give(taskId: string): Promise<null> {
    return host('cancel', { taskId }).catch(() => null)
  }
}

/** Gives up the look that is being taken; the list before it stays. */
export function cancelChecks({ store, host }: Desk): void {
  const { running } = store.get().session.checks
  if (running !== null) void host('cancel', { taskId: running.taskId }).catch(() => null)
}

/** What was found, with the waivers that the job has now: a waiver needs no other look. Null before the first. */
export const listNow = ({ list }: Checks, waivers: Job['waivers']): CheckList | null =>
  list === null ? null : listed(list.findings, waivers, list.ran)

/** Whether the list is of another state of the job than the one on the table. */
export function outdated({ of }: Pick<Checks, 'of'>, job: Job): boolean {
  if (of === null || of === job) return false
  const fields = Object.keys({ ...of, ...job }) as (keyof Job)[]
  return (
    fields.some(field => !besides.some(one => one === field) && of[field] !== job[field]) ||
    of.art?.sha256 !== job.art?.sha256 ||
    of.view.eyeDistanceMm !== job.view.eyeDistanceMm ||
    of.view.eyeAt !== job.view.eyeAt
  )
}

/** Fields of a job that no check reads; a new field counts until it is named here. `art` and `view` are read in part. */
const besides = [
  'art',
  'brief',
  'view',
  'paths',
  'pins',
  'waivers',
  'register',
  'presets',
  'variants',
  'variant',
  'aside',
] as const satisfies readonly (keyof Job)[]
