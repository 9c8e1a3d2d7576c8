import type { Host } from '../../core/host/contract.ts'
import type { Job } from '../../core/job/job.ts'
import { inSession, type OpenArt, type State } from './state.ts'
import type { Store } from './store.ts'
import { report, withProgress } from './work.ts'

/** A typed number settles before the map is built from it. */
const waitMs = 220

/**
 * Keeps roles and the map on the table up to date, whenever something they are made of changes.
 * Work for a job that has changed again is stopped. Returns the function that ends it.
 */
export function keepBuilt(store: Store<State>, host: Host): () => void {
  let wanted: Ingredients | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let running: string | null = null
  const stop = store.listen(check)
  check()
  return () => {
    stop()
    clearTimeout(timer)
  }

  function check(): void {
    const next = ingredients(store.get())
    if (next === null || (wanted !== null && sameIngredients(wanted, next))) {
      if (next === null) wanted = null
      return
    }
    const first = wanted?.file !== next.file
    wanted = next
    store.set(state => inSession(state, { stale: true }))
    clearTimeout(timer)
    timer = setTimeout(build, first ? 0 : waitMs)
  }

  async function build(): Promise<void> {
    const { job } = store.get()
    const mine = wanted
    if (job === null || mine === null) return
    if (running !== null) void host('cancel', { taskId: running }).catch(() => null)
    try {
      // Roles are found much sooner than the map is built, on a thread of their own; the map brings them too.
      let mapped = false
      host('assignRoles', { fileId: mine.file, job: { ...job } }).then(
        ({ assigned }) => {
          if (mine === wanted && !mapped) store.set(state => withRoles(state, assigned))
        },
        // The map meets the same trouble and says it.
        () => undefined,
      )
      const built = await withProgress(store, host, 'Building the material map', false, taskId => {
        running = taskId
        return host('buildMap', { fileId: mine.file, taskId, job: { ...job } })
      })
      mapped = true
      if (mine !== wanted) return
      // Stopped by hand: what lies on the table stays, and says that it is old.
      if (built === null) return
      store.set(state =>
        inSession(withRoles(state, built.assigned), {
          built: { map: built.map, findings: built.findings },
          stale: false,
        }),
      )
    } catch (error) {
      if (mine === wanted) report(store, error)
    }
  }
}

/** What a map is made of; two equal ones make the same map. */
interface Ingredients {
  readonly file: string
  readonly parts: readonly unknown[]
}

function ingredients(state: State): Ingredients | null {
  const { job } = state
  const { art } = state.session
  return job === null || art === null
    ? null
    : { file: art.file.id, parts: [...partsOf(job), art.sha256, state.session.attempt] }
}

const partsOf = (job: Job): readonly unknown[] => [
  job.panel,
  job.sketch,
  job.roles,
  job.aliases,
  job.effects,
  job.outlines,
  job.nestTurnDeg,
  job.assets,
  job.whites,
  job.spots,
  job.print.profile,
  job.print.intent,
  job.print.blackPoint,
]

/** True when both jobs make the same map of the same art. */
export const sameParts = (a: Job, b: Job): boolean => {
  const parts = partsOf(b)
  return partsOf(a).every((part, i) => part === parts[i])
}

const sameIngredients = (a: Ingredients, b: Ingredients): boolean =>
  a.file === b.file && a.parts.every((part, i) => part === b.parts[i])

/** Builds the map once more after it was stopped or failed. */
export const buildAgain = (state: State): State => inSession(state, { attempt: state.session.attempt + 1 })

function withRoles(state: State, assigned: OpenArt['assigned']): State {
  const { art } = state.session
  return art === null ? state : inSession(state, { art: { ...art, assigned } })
}
