import type { ImportedArt } from '../../core/host/art.ts'
import { blankFileId } from '../../core/host/file-ref.ts'
import type { Job } from '../../core/job/job.ts'
import { type Desk, importArt, openArt, readingOf } from './open.ts'
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
  /** How the file stood at the last look, and when it was last read anew. */
  let last: string | null = null
  let tried: string | null = null
  let busy = false
  const timer = setInterval(() => void look(), everyMs)
  return () => clearInterval(timer)

  async function look(): Promise<void> {
    const { art, work } = store.get().session
    if (art === null || art.file.id === blankFileId || busy || work?.blocks) return
    busy = true
    try {
      // The host that stopped answering says so at the next thing the user asks.
      const beside = store.get().job?.art?.beside ?? []
      const state = await host('artState', { fileId: art.file.id, beside: [...beside] }).catch(() => null)
      if (state === null) return
      if (state !== art.state && state === last && state !== tried) {
        tried = state
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
    const { metAgain } = await import('../../core/job/relink.ts')
    const { artChangeFinding } = await import('../../core/job/art-change.ts')
    const { job: before } = store.get()
    if (before === null) return
    // A job of an earlier version does not say how its art lay; this sitting knows.
    const known = (job: Job): Job => (job.seen === undefined && old.seen ? { ...job, seen: old.seen } : job)
    const { change } = metAgain(known(before), fresh.job)
    const told = change === null ? null : artChangeFinding(change)
    store.set(state => {
      if (state.job === null || state.session.art?.file.id !== old.file.id) return state
      const path = state.job.art?.path ?? fresh.job.art?.path ?? old.file.name
      const art = { ...fresh.job.art, path, sha256: fresh.sha256 }
      const { job } = metAgain(known(state.job), { ...fresh.job, art })
      const read = openArt(old.file, fresh)
      const findings = told === null ? read.findings : [told, ...read.findings]
      return { ...inSession(state, { art: { ...read, file: old.file, findings } }), job }
    })
    say(store, `${old.file.name} was saved again and read anew${told === null ? '' : `: ${told.message}`}.`)
  }
}
