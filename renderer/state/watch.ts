import type { ImportedArt } from '../../core/host/art.ts'
import { blankFileId } from '../../core/host/file-ref.ts'
import { relinkArt } from '../../core/job/edit.ts'
import { type Desk, importArt, readingOf } from './open.ts'
import { inSession, type OpenArt } from './state.ts'
import { report, say } from './work.ts'

/** How often the art's file is looked at, ms. A save by another program is seen after two looks that agree. */
const lookMs = 1200

/**
 * Reads the art again when its file was saved by another program; roles, areas and everything else of the job stay.
 * Returns the function that ends it.
 */
export function watchArt(desk: Desk, everyMs = lookMs): () => void {
  const { store, host } = desk
  /** How the file stood when it was read, and at the last look. */
  let read: { readonly fileId: string; readonly state: string } | null = null
  let last: string | null = null
  let busy = false
  const timer = setInterval(() => void look(), everyMs)
  return () => clearInterval(timer)

  async function look(): Promise<void> {
    const { art, work } = store.get().session
    if (art === null || art.file.id === blankFileId) {
      read = null
      return
    }
    if (busy || work?.blocks) return
    busy = true
    try {
      // The host that stopped answering says so at the next thing the user asks.
      const beside = store.get().job?.art?.beside ?? []
      const state = await host('artState', { fileId: art.file.id, beside: [...beside] }).catch(() => null)
      if (state === null) return
      if (read?.fileId !== art.file.id) read = { fileId: art.file.id, state }
      else if (state !== read.state && state === last) {
        read = { fileId: art.file.id, state }
        await again(art)
      }
      last = state
    } finally {
      busy = false
    }
  }

  async function again(old: OpenArt): Promise<void> {
    try {
      const { job } = store.get()
      const fresh = await importArt(desk, old.file, { reading: job === null ? {} : readingOf(job) })
      const same = (now: ImportedArt) =>
        now.sha256 === old.sha256 &&
        now.job.art?.beside?.map(one => one.sha256).join() === job?.art?.beside?.map(one => one.sha256).join()
      if (fresh !== null && !same(fresh)) await put(old, fresh)
    } catch (error) {
      report(store, error)
    }
  }

  async function put(old: OpenArt, fresh: ImportedArt): Promise<void> {
    const { artChange } = await import('../../core/art/art-change.ts')
    const change = artChange(old.art, fresh.art)
    store.set(state => {
      if (state.job === null || state.session.art?.file.id !== old.file.id) return state
      const path = state.job.art?.path ?? fresh.job.art?.path ?? old.file.name
      const job = relinkArt({ ...fresh.job.art, path, sha256: fresh.sha256 }, fresh.job.found)(state.job)
      const { art, sha256, assigned } = fresh
      const findings = [change, ...fresh.findings]
      return { ...inSession(state, { art: { ...old, art, sha256, assigned, findings } }), job }
    })
    say(store, `${old.file.name} was saved again and read anew: ${change.message}.`)
  }
}
