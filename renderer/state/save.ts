import { ask, type Desk } from './open.ts'
import { inSession } from './state.ts'
import { report, say } from './work.ts'

/** Saves the job: to its file, under a name the host asks for, or as a download. True when it was saved. */
export async function save(desk: Desk, under: 'itsName' | 'newName' = 'itsName'): Promise<boolean> {
  const { job, session } = desk.store.get()
  if (job === null || session.art === null) return false
  try {
    if (session.about?.files === 'upload') {
      const name =
        session.jobFile?.name ?? (job.art === null ? 'carton.job.json' : jobName(session.art.file.name))
      desk.page.download(name, `${JSON.stringify(job, null, 2)}\n`)
      desk.store.set(state => inSession(state, { kept: job }))
      const beside = job.art === null ? '' : ` Keep it beside ${session.art.file.name}.`
      say(desk.store, `${name} went to your downloads.${beside}`)
      return true
    }
    const fileId = under === 'newName' ? null : (session.jobFile?.id ?? null)
    const saved = await desk.host('saveJob', { fileId, artFileId: session.art.file.id, job: { ...job } })
    if (saved === null) return false
    // The host may have made the art's path relative to the new place; edits made meanwhile stay.
    desk.store.set(state => {
      const now = state.job === null ? null : { ...state.job, art: saved.job.art }
      return { ...inSession(state, { jobFile: saved.file, kept: { ...job, art: saved.job.art } }), job: now }
    })
    say(desk.store, `Saved as ${saved.file.name}.`)
    const recent = await desk.host('recent', {})
    desk.store.set(state => inSession(state, { recent }))
    return true
  } catch (error) {
    report(desk.store, error)
    return false
  }
}

/** The answer to "keep the changes?". */
export async function answerUnsaved(desk: Desk, answer: 'save' | 'drop' | 'stay'): Promise<void> {
  const { question } = desk.store.get().session
  if (question?.kind !== 'unsaved') return
  if (answer === 'save' && !(await save(desk))) return
  ask(desk, null)
  if (answer !== 'stay') question.next()
}

/** `front.psd` → `front.job.json` */
export const jobName = (artName: string): string => `${artName.replace(/\.[^.]*$/, '')}.job.json`
