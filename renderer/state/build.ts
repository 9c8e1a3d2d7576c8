import type { BuiltMap } from '../../core/host/art.ts'
import type { Host } from '../../core/host/contract.ts'
import type { Job } from '../../core/job/job.ts'
import { applyChange } from '../../core/material/change.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { inSession, type OpenArt, type State } from './state.ts'
import type { Store } from './store.ts'
import { report, withProgress } from './work.ts'

/** Work that takes longer is given up for a newer wish; until then the newer one waits, which is sooner done. */
const patienceMs = 600
/** A hand that rests this long after a first look waits for the map itself, ms. */
const restMs = 200

/**
 * Keeps roles and the map on the table up to date, whenever something they are made of changes. One map is made at a
 * time: what is wished meanwhile waits, and of several wishes the newest is next. Returns the function that ends it.
 */
export function keepBuilt(store: Store<State>, host: Host): () => void {
  let wanted: Ingredients | null = null
  /** Whose map is on the table or being made. */
  let taken: Ingredients | null = null
  let running: { readonly taskId: string; readonly since: number } | null = null
  /** While a first look stands in for the map being made: ends the wait for the hand to rest. */
  let looking: { readonly wake: () => void } | null = null
  let patience: ReturnType<typeof setTimeout> | undefined
  let ended = false
  const stop = store.listen(check)
  check()
  return () => {
    ended = true
    stop()
    clearTimeout(patience)
  }

  function check(): void {
    const next = ingredients(store.get())
    if (next === null || (wanted !== null && sameIngredients(wanted, next))) {
      if (next === null) wanted = null
      return
    }
    wanted = next
    store.set(state => inSession(state, { stale: true }))
    if (running === null) void build()
    else if (looking !== null) {
      // The eye has what it needs of the wish before.
      looking.wake()
      giveUp()
    } else if (patience === undefined) patience = setTimeout(giveUp, running.since + patienceMs - Date.now())
  }

  /** Stops work that is not wished any more. */
  function giveUp(): void {
    if (running !== null && taken !== wanted)
      void host('cancel', { taskId: running.taskId }).catch(() => null)
  }

  async function build(): Promise<void> {
    // What changes within one turn is one wish.
    running = { taskId: '', since: Date.now() }
    await Promise.resolve()
    const mine = wanted
    const { job, session } = store.get()
    if (job === null || mine === null) {
      running = null
      return
    }
    const first = taken === null || !sameRoles(taken, mine)
    taken = mine
    try {
      if (first) findRoles(mine, job)
      const from = session.built !== null && store.get().view.compare !== 'designs' ? session.built.id : null
      const ask = (soon: boolean) =>
        withProgress(
          store,
          host,
          'Building the material map',
          false,
          taskId => {
            running = { taskId, since: Date.now() }
            return host('buildMap', { fileId: mine.file, taskId, job: { ...job }, from, soon })
          },
          first ? 0 : progressAfterMs,
        )
      let built = await ask(from !== null)
      if (built?.shown.kind === 'look' && !ended) {
        showLook(built.shown.look, from)
        if (mine === wanted) await handRests()
        if (mine !== wanted) return
        built = await ask(false)
      }
      // Stopped by hand: what lies on the table stays, and says that it is old.
      if (built !== null && !ended) take(mine, built, from)
    } catch (error) {
      if (mine === wanted) report(store, error)
    } finally {
      running = null
      looking = null
      clearTimeout(patience)
      patience = undefined
      if (!ended && wanted !== null && wanted !== mine) void build()
      // What never came of it must not stay in the picture.
      else showLook(null, store.get().session.built?.id ?? null)
    }
  }

  /** Lays a first look over the map on the table. @param from id of the map that it belongs to */
  function showLook(look: FirstLook | null, from: string | null): void {
    store.set(state => {
      const { built } = state.session
      if (built === null || built.id !== from || built.look === look) return state
      return inSession(state, { built: { ...built, look } })
    })
  }

  function handRests(): Promise<void> {
    return new Promise(resolve => {
      const timer = setTimeout(resolve, restMs)
      looking = {
        wake: () => {
          clearTimeout(timer)
          resolve()
        },
      }
    })
  }

  /** Roles are found much sooner than the map is built, on a thread of their own; the map brings them too. */
  function findRoles(mine: Ingredients, job: Job): void {
    host('assignRoles', { fileId: mine.file, job: { ...job } }).then(
      ({ assigned }) => {
        if (mine === wanted && running !== null) store.set(state => withRoles(state, assigned))
      },
      // The map meets the same trouble and says it.
      () => undefined,
    )
  }

  /** Puts a map on the table, also one that is older than the newest wish: the hand that drags sees it move. */
  function take(mine: Ingredients, built: BuiltMap, from: string | null): void {
    if (wanted === null || wanted.file !== mine.file || wanted.art !== mine.art) return
    store.set(state => {
      const levels = levelsOf(state, built, from)
      const map = levels?.[0]
      if (levels === null || map === undefined) return state
      const next = withRoles(state, built.assigned)
      return inSession(next, {
        built: { id: built.id, map, levels, findings: built.findings, look: null },
        stale: mine !== wanted,
      })
    })
  }
}

/** Shorter work needs no progress line. */
const progressAfterMs = 400

/** The levels that a reply means; null when what it changes is not on the table any more. */
function levelsOf(
  { session }: State,
  { shown }: BuiltMap,
  from: string | null,
): readonly MaterialMap[] | null {
  switch (shown.kind) {
    case 'whole':
      return shown.levels
    case 'change':
      return session.built === null || session.built.id !== from
        ? null
        : applyChange(session.built.levels, shown.change)
    case 'look':
      return null
  }
}

/** What a map is made of; two equal ones make the same map. */
interface Ingredients {
  readonly file: string
  readonly art: string
  /** What roles come from. */
  readonly roles: readonly unknown[]
  readonly parts: readonly unknown[]
}

function ingredients(state: State): Ingredients | null {
  const { job } = state
  const { art } = state.session
  return job === null || art === null
    ? null
    : {
        file: art.file.id,
        art: art.sha256,
        roles: [job.roles, job.aliases, job.art?.readAs, art.sha256, state.session.attempt],
        parts: [...partsOf(job), art.sha256, state.session.attempt],
      }
}

const partsOf = (job: Job): readonly unknown[] => [
  job.art?.ppi,
  job.art?.readAs,
  job.panel,
  job.sketch,
  job.roles,
  job.aliases,
  job.effects,
  job.outlines,
  job.nestTurnDeg,
  job.assets,
  job.whites,
  job.madeWhite,
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

const sameRoles = (a: Ingredients, b: Ingredients): boolean =>
  a.file === b.file && a.roles.every((part, i) => part === b.roles[i])

const sameIngredients = (a: Ingredients, b: Ingredients): boolean =>
  a.file === b.file && a.parts.every((part, i) => part === b.parts[i])

/** Builds the map once more after it was stopped or failed. */
export const buildAgain = (state: State): State => inSession(state, { attempt: state.session.attempt + 1 })

function withRoles(state: State, assigned: OpenArt['assigned']): State {
  const { art } = state.session
  // The same roles stay the same list, so that nothing is drawn anew for them.
  if (art !== null && JSON.stringify(art.assigned) === JSON.stringify(assigned)) return state
  return art === null ? state : inSession(state, { art: { ...art, assigned } })
}
