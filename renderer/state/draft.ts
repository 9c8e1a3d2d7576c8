import type { Desk } from './open.ts'
import type { State } from './state.ts'
import { unsaved } from './steps.ts'

/** Work is kept this long after the last change at the latest, ms; a drag is not kept at every frame. */
const restMs = 700
const longestMs = 4000

/**
 * Keeps a copy of unsaved work with the host, and takes it away once the work is saved or given up. Never the user's
 * own file. Returns the function that ends it.
 */
export function keepDrafts({ store, host }: Desk, draftId: string): () => void {
  let seen: State['job'] = store.get().job
  let kept: State['job'] = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let since: number | null = null
  let last: Promise<unknown> = Promise.resolve()
  const stop = store.listen(heard)
  return () => {
    stop()
    clearTimeout(timer)
  }

  function heard(): void {
    const state = store.get()
    if (state.job === seen && (kept === null) !== unsaved(state)) return
    seen = state.job
    clearTimeout(timer)
    const now = Date.now()
    since ??= now
    timer = setTimeout(keep, Math.max(0, Math.min(restMs, since + longestMs - now)))
  }

  function keep(): void {
    since = null
    const state = store.get()
    const { job, session } = state
    if (job === null || session.art === null || !unsaved(state)) {
      if (kept === null) return
      kept = null
      // A copy that stays behind is offered again and does no harm.
      last = last.then(() => host('dropDraft', { draftId })).catch(() => undefined)
      return
    }
    if (job === kept) return
    kept = job
    const input = { draftId, fileId: session.jobFile?.id ?? null, artFileId: session.art.file.id, job }
    // A host that cannot keep it says so where the user saves; a line at every change would help nobody.
    last = last.then(() => host('keepDraft', { ...input, job: { ...job } })).catch(() => undefined)
  }
}

/** The id of this window's draft: the same after the page is loaded again. */
export function windowId(storage: Storage): string {
  const key = 'rakelight-window'
  const id = storage.getItem(key) ?? crypto.randomUUID()
  storage.setItem(key, id)
  return id
}
