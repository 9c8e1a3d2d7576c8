import type { Host } from '../../core/host/contract.ts'
import { cancelledCode } from '../../core/host/reply.ts'
import { inSession, type State, type Work } from './state.ts'
import type { Store } from './store.ts'

/** Often enough to look alive, seldom enough not to slow the work. */
const askEveryMs = 150

/**
 * Runs long work under a task id, shows its progress and takes the progress line away again.
 * Returns null when the user cancelled; other failures reject.
 * @param afterMs how long it takes before it is shown at all
 */
export async function withProgress<T>(
  store: Store<State>,
  host: Host,
  title: string,
  blocks: boolean,
  run: (taskId: string) => Promise<T>,
  afterMs = 0,
): Promise<T | null> {
  const taskId = crypto.randomUUID()
  const begin = () => show({ taskId, title, done: null, what: '', blocks })
  const shown = afterMs > 0 ? setTimeout(begin, afterMs) : undefined
  if (shown === undefined) begin()
  const stop = followProgress(host, taskId, ({ done, what }) =>
    store.set(state => {
      const { work } = state.session
      return work?.taskId === taskId ? inSession(state, { work: { ...work, done, what } }) : state
    }),
  )
  try {
    return await run(taskId)
  } catch (error) {
    if (isCancelled(error)) return null
    throw error
  } finally {
    stop()
    clearTimeout(shown)
    store.set(state => (state.session.work?.taskId === taskId ? inSession(state, { work: null }) : state))
  }

  function show(work: Work): void {
    store.set(state => {
      // A map rebuilt at the edge never hides an import.
      const busy = state.session.work
      return busy?.blocks && !work.blocks ? state : inSession(state, { work })
    })
  }
}

/** Asks how far a task is, until the returned function is called. */
export function followProgress(
  host: Host,
  taskId: string,
  heard: (progress: { readonly done: number; readonly what: string }) => void,
): () => void {
  const timer = setInterval(async () => {
    // A missed answer only delays the line; the work itself reports its own failure.
    const progress = await host('progress', { taskId }).catch(() => null)
    if (progress !== null) heard(progress)
  }, askEveryMs)
  return () => clearInterval(timer)
}

export const isCancelled = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === cancelledCode

/** Says in one line what went wrong; everything else stays as it was. */
export function report(store: Store<State>, error: unknown): void {
  const text = error instanceof Error ? error.message : String(error)
  store.set(state => inSession(state, { message: { tone: 'error', text } }))
}

export function say(store: Store<State>, text: string): void {
  store.set(state => inSession(state, { message: { tone: 'note', text } }))
}
