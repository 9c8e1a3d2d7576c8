import { BadInput } from '../../core/base/finding.ts'
import type { SizedForm } from '../../core/job/carton.ts'
import { cartonJob, layOnCarton } from '../../core/job/carton-job.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { blankOpen } from './blank-art.ts'
import type { Desk } from './open.ts'
import { artOf, chooseArt, importArt, lay, openArt, unlessUnsaved } from './open.ts'
import { inSession } from './state.ts'
import { report, say } from './work.ts'

/** Work on a job that has no art yet. */

/** A new job for a flat panel of that size, mm. */
export const startBlank = (desk: Desk, widthMm: number, heightMm: number): void =>
  begin(desk, blankJob(widthMm, heightMm))

/** A new job for a carton on board so thick, mm; returns what is wrong with it, and then changes nothing. */
export function startCarton(desk: Desk, form: SizedForm, caliperMm: number): BadInput | null {
  try {
    begin(desk, cartonJob(form, caliperMm))
    return null
  } catch (error) {
    if (error instanceof BadInput) return error
    throw error
  }
}

const begin = (desk: Desk, job: Job): void =>
  unlessUnsaved(desk, async () => lay(desk, blankOpen(job), job, job, null))

/** The user picks the first art of the job on the table; everything that was decided stays. */
export async function takeArt(desk: Desk): Promise<void> {
  try {
    const chosen = artOf(await chooseArt(desk, 'art'))
    if (chosen === null) return
    const [file, beside] = chosen
    const imported = await importArt(desk, file, { beside, asks: true })
    if (imported === null) return
    const { relinkArt } = await import('../../core/job/relink.ts')
    desk.store.set(state => {
      const { job } = state
      if (job === null || job.art !== null) return state
      return {
        ...inSession(state, {
          art: openArt(file, imported),
          history: { ...state.session.history, gesture: null },
        }),
        job: layOnCarton(imported.job.panel)(relinkArt(imported.job)(job)),
      }
    })
    say(desk.store, `${file.name} lies on the table. Effects and white went to its layers.`)
  } catch (error) {
    report(desk.store, error)
  }
}
