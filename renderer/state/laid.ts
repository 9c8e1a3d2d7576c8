import { deltaE2000 } from '../../core/color/deltae.ts'
import type { Job } from '../../core/job/job.ts'
import { laidWords, overlayWords } from '../../core/job/overlay-words.ts'
import { asPrinted, type Overlay } from '../../core/reference/overlay.ts'
import type { SpotReading } from '../panels/probe/reading.ts'

/** One of the ways in which the leaves of a job are laid down. */
export interface Laid {
  readonly laid: Overlay['laid']
  /** `As printed` or `As a film proof`; the caption says also what is lifted or hidden. */
  readonly title: string
  readonly caption: string
  /** The job as it then is looked at. */
  readonly job: Job
}

/**
 * The leaves of a job as printed and as a film proof. Nothing else differs: lift and hidden leaves are those of the job,
 * and a carton lies open in both, as a film is laid on an open sheet.
 */
export function bothLaid(job: Job): readonly [Laid, Laid] {
  const overlay = job.view.overlay ?? asPrinted
  const more = overlayWords({ ...overlay, laid: 'print' })
  const as = ({ value, title }: (typeof laidWords)[number]): Laid => ({
    laid: value,
    title,
    caption: more === null ? title : `${title}, ${more}`,
    job: { ...job, carton: null, view: { ...job.view, overlay: { ...overlay, laid: value } } },
  })
  const [print, film] = laidWords
  return [as(print), as(film)]
}

/** The same spot in the other picture, and CIEDE2000 between the two; null where it is out of sight in either. */
export function besideReading(
  here: Pick<SpotReading, 'lab'> | null,
  there: Pick<SpotReading, 'lab' | 'css'> | null,
): { readonly css: string; readonly deltaE: number } | null {
  const [a, b, css] = [here?.lab ?? null, there?.lab ?? null, there?.css ?? null]
  return a === null || b === null || css === null ? null : { css, deltaE: deltaE2000(a, b) }
}
