import type { SignoffState } from '../../core/host/signing.ts'
import type { Job } from '../../core/job/job.ts'
import type { Note } from '../../core/proof/notes.ts'
import type { SignWish } from '../../core/proof/round.ts'
import { choose, type Desk } from './open.ts'
import { type Beside, noBeside, type Proofs, proofsOf, type TakenIn } from './proofs.ts'
import { inSession, type SignMark, type State } from './state.ts'

/** Null for a job that was never saved: nothing can lie beside it. */
export const jobFileId = ({ session }: State): string | null => session.jobFile?.id ?? null

/** Asks the host for something that lies beside the job; what another job had is forgotten at once. */
async function ask(
  desk: Desk,
  part: Beside,
  get: (jobFileId: string) => Promise<Partial<Proofs>>,
): Promise<boolean> {
  const proofs = proofsOf(desk.store)
  const id = jobFileId(desk.store.get())
  if (proofs.get().of !== id) proofs.set(now => ({ ...now, ...noBeside, of: id }))
  if (id === null) return false
  const set = (change: Partial<Proofs>, failed: string | null): void =>
    proofs.set(now =>
      now.of === id ? { ...now, ...change, failed: { ...now.failed, [part]: failed } } : now,
    )
  try {
    set(await get(id), null)
    return true
  } catch (error) {
    set({}, error instanceof Error ? error.message : String(error))
    return false
  }
}

export const loadNotes = (desk: Desk): Promise<boolean> =>
  ask(desk, 'notes', async jobFileId => ({ notes: await desk.host('notes', { jobFileId }) }))

/** Adds a note, or one whose answers have become more. */
export const keepNote = (desk: Desk, note: Note): Promise<boolean> =>
  ask(desk, 'notes', async jobFileId => ({
    notes: (await desk.host('addNotes', { jobFileId, notes: [note] })).file,
  }))

/** Lays the notes of a returned file to those of the job, and says how many were new. */
export async function takeInNotes(desk: Desk): Promise<void> {
  proofsOf(desk.store).set(now => ({ ...now, takenIn: null }))
  await ask(desk, 'notes', async jobFileId => {
    const file = await choose(desk, 'notes')
    if (file === null) return {}
    const { file: notes, added, mark } = await desk.host('mergeNotes', { jobFileId, notesFileId: file.id })
    const takenIn: TakenIn = { name: file.name, added, mark }
    return { notes, takenIn }
  })
}

export const loadVersions = (desk: Desk): Promise<boolean> =>
  ask(desk, 'versions', async jobFileId => ({ versions: await desk.host('versions', { jobFileId }) }))

export const loadSignoff = (desk: Desk): Promise<boolean> =>
  asked(desk, (jobFileId, artFileId, job) => desk.host('signoff', { jobFileId, artFileId, job: { ...job } }))

/** Asks people, or signs for one of them. */
export const sign = (desk: Desk, wish: SignWish): Promise<boolean> =>
  asked(desk, (jobFileId, artFileId, job) =>
    desk.host('addSignoff', { jobFileId, artFileId, job: { ...job }, wish: structuredClone(wish) as never }),
  )

function asked(
  desk: Desk,
  get: (jobFileId: string, artFileId: string, job: Job) => Promise<SignoffState | null>,
): Promise<boolean> {
  return ask(desk, 'signoff', async jobFileId => {
    const state = desk.store.get()
    const job = signedJob(state)
    if (job === null || state.session.art === null) return {}
    const signoff = await get(jobFileId, state.session.art.file.id, job)
    desk.store.set(now => inSession(now, { signed: markOf(signoff) }))
    return { signoff }
  })
}

/**
 * The job as it is signed and held to what was signed: how the panel is held and how brightly it is shown are those of
 * the saved job, since looking at it changes nothing.
 */
export function signedJob({ job, session }: State): Job | null {
  if (job === null || session.kept === null) return job
  const { pose, exposureStops } = session.kept.view
  return { ...job, view: { ...job.view, pose, exposureStops } }
}

/** How a record stands, in one word; null where there is none, or nobody has decided. */
export function markOf(signoff: SignoffState | null): SignMark | null {
  if (signoff === null) return null
  if (signoff.broken.length > 0 || signoff.standing === null) return 'broken'
  if (!signoff.record.entries.some(one => one.kind === 'decision')) return null
  return signoff.standing.kind === 'stands' ? 'stands' : 'superseded'
}

/** An edit that goes on is waited for, ms. */
const restMs = 800

/**
 * Holds the sign-off to the job whenever one is opened or edited, so that what was signed of another state is never
 * taken for this one. Returns the function that ends it.
 */
export function watchSignoff(desk: Desk): () => void {
  let seen: unknown[] = []
  let timer: ReturnType<typeof setTimeout> | undefined
  const look = (): void => {
    const state = desk.store.get()
    const id = jobFileId(state)
    const { art } = state.session
    const now = [id, art?.sha256, ...parts(state)]
    if (now.length === seen.length && now.every((one, i) => one === seen[i])) return
    const other = now[0] !== seen[0]
    seen = now
    if (id === null) {
      if (state.session.signed !== null) desk.store.set(all => inSession(all, { signed: null }))
      return
    }
    // Where there is no record an edit changes nothing.
    if (!other && proofsOf(desk.store).get().signoff === null) return
    clearTimeout(timer)
    timer = setTimeout(() => void loadSignoff(desk), other ? 0 : restMs)
  }
  look()
  const end = desk.store.listen(look)
  return () => {
    clearTimeout(timer)
    end()
  }
}

/** Everything of a job that is no look. */
function parts({ job }: State): readonly unknown[] {
  if (job === null) return []
  const { view, ...rest } = job
  const { pose: _, exposureStops: __, ...seen } = view
  return [...Object.values(rest), ...Object.values(seen)]
}
