import type { Desk } from './open.ts'
import { proofsOf, type Sending, type SendKind } from './proofs.ts'
import type { State } from './state.ts'
import type { Store } from './store.ts'
import { followProgress, isCancelled } from './work.ts'

/** What work on something to be sent out is given. */
export interface SendTask {
  readonly taskId: string
  /** Aborted when the user gives it up. */
  readonly signal: AbortSignal
  /** How far work of the window itself is; the host's is asked for. */
  readonly tell: (done: number, what: string) => void
}

const stops = new WeakMap<Store<State>, Map<SendKind, AbortController>>()

/**
 * Makes one thing to be sent out, one at a time of each kind, and keeps what came of it.
 * @param make does the work; a line for each file that was made, or null where the user chose no place
 */
export async function send(
  { store, host }: Desk,
  kind: SendKind,
  make: (task: SendTask) => Promise<readonly string[] | null>,
): Promise<void> {
  const proofs = proofsOf(store)
  if (proofs.get().sending[kind].running !== null) return
  const set = (change: Partial<Sending>): void =>
    proofs.set(now => ({ ...now, sending: { ...now.sending, [kind]: { ...now.sending[kind], ...change } } }))
  const taskId = crypto.randomUUID()
  const startedAt = Date.now()
  const stop = new AbortController()
  const all = stops.get(store) ?? new Map<SendKind, AbortController>()
  stops.set(store, all.set(kind, stop))
  stop.signal.addEventListener('abort', () => void host('cancel', { taskId }).catch(() => null))
  const tell = (done: number, what: string): void => {
    if (proofs.get().sending[kind].running?.taskId === taskId)
      set({ running: { taskId, done, what, startedAt } })
  }
  set({ running: { taskId, done: null, what: '', startedAt }, failed: null, made: [] })
  const unfollow = followProgress(host, taskId, ({ done, what }) => tell(done, what))
  try {
    set({ made: (await make({ taskId, signal: stop.signal, tell })) ?? [], running: null })
  } catch (error) {
    const given = isCancelled(error) || stop.signal.aborted
    set({ running: null, failed: given ? null : error instanceof Error ? error.message : String(error) })
  } finally {
    unfollow()
    all.delete(kind)
  }
}

/** Gives up what is being made; nothing of it stays under its name. */
export const stopSending = (store: Store<State>, kind: SendKind): void => stops.get(store)?.get(kind)?.abort()
