import { drawnPpi } from '../../core/art/drawn/usual.ts'
import type { ImportedArt } from '../../core/host/art.ts'
import type { Job } from '../../core/job/job.ts'
import { relinkArt } from '../../core/job/relink.ts'
import { isRead, type Manner, mannerOf } from './manner.ts'
import { type Desk, importArt, openArt, readingOf } from './open.ts'
import { inSession, type State } from './state.ts'
import { decide } from './steps.ts'
import { report } from './work.ts'

/** Reads the art on the table in another manner, as one step; all stays as it is where that is stopped or fails. */
export async function readAnew(desk: Desk, manner: Partial<Manner>): Promise<void> {
  const { job, session } = desk.store.get()
  if (job === null || session.art === null) return
  const wanted = { ...mannerOf(job), ...manner }
  if (isRead(session.art.art, wanted)) return
  await read(desk, wanted, (state, { job: { art, ...met } }) =>
    decide(state, now => {
      if (now.art === null || art === null) return now
      const { path, sha256 } = now.art
      return relinkArt({ ...met, art: { ...art, path, sha256 } })(now)
    }),
  )
}

/** Reads the art on the table as its job says. */
export async function readAgain(desk: Desk): Promise<void> {
  const { job } = desk.store.get()
  if (job !== null) await read(desk, mannerOf(job), state => state)
}

async function read(
  desk: Desk,
  manner: Manner,
  decided: (state: State, fresh: ImportedArt) => State,
): Promise<void> {
  const { job, session } = desk.store.get()
  const old = session.art
  if (job === null || old === null) return
  try {
    const fresh = await importArt(desk, old.file, { reading: readingFor(job, manner) })
    if (fresh === null) return
    desk.store.set(state => {
      if (state.job?.art == null || state.session.art?.file.id !== old.file.id) return state
      return inSession(decided(state, fresh), { art: { ...openArt(old.file, fresh), file: old.file } })
    })
  } catch (error) {
    report(desk.store, error)
  }
}

/** What is usual is left out. */
function readingFor(job: Job, { ppi, readAs }: Manner) {
  const { ppi: _, readAs: __, ...kept } = readingOf(job)
  return {
    ...kept,
    ...(ppi === drawnPpi ? {} : { ppi }),
    ...(readAs === 'inks' ? {} : { readAs }),
  }
}
