import { BadInput, type Finding } from '../../core/base/finding.ts'
import { readDie } from '../../core/carton/read/read-die.ts'
import { cartonFor, type JobCarton } from '../../core/job/carton.ts'
import type { Job } from '../../core/job/job.ts'
import { foldInto } from './actions.ts'
import { inSession, type Message, type State } from './state.ts'
import type { Store } from './store.ts'

/** Makes the job's carton of a dieline drawing; one that cannot be folded changes nothing, and a line says why. */
export async function takeDrawing(store: Store<State>, file: File): Promise<void> {
  const bytes = new Uint8Array(await file.arrayBuffer())
  const say = (message: Message) => store.set(now => inSession(now, { message }))
  try {
    const { job } = store.get()
    if (job === null) return
    // Few jobs need it: not in what the first picture waits for.
    const { readSvg } = await import('../../core/carton/read/svg.ts')
    const reading = readDie(readSvg(bytes, file.name), { caliperMm: job.board.caliperMm })
    const errors = reading.findings.filter(({ severity }) => severity === 'error')
    if (errors.length > 0) return say({ tone: 'error', text: whyNot(file.name, errors) })
    const { lines, glue } = reading.die
    const form = { from: 'drawing', name: file.name, lines, glue } as const
    store.set(now => (now.job === null ? now : foldInto(now, drawnCarton(now.job, form))))
    const [doubt] = reading.findings.filter(({ severity }) => severity === 'warning')
    if (doubt !== undefined) say({ tone: 'note', text: `${file.name}: ${doubt.message}. ${doubt.fix}` })
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    say({ tone: 'error', text: error.message })
  }
}

/** Folds start anew with a new drawing; the art lies over all of it, where one draws it by the die. */
function drawnCarton({ panel }: Pick<Job, 'panel'>, form: JobCarton['form']): JobCarton {
  return { ...cartonFor(panel), form, arts: [{ panel: null, xMm: 0, yMm: 0 }] }
}

/** The first fault with what to do about it, the next two by name, and how many there are beyond. */
function whyNot(name: string, [first, ...others]: readonly Pick<Finding, 'message' | 'fix'>[]): string {
  if (first === undefined) return ''
  const told = others.slice(0, 2).map(({ message }) => ` Also: ${message}.`)
  const rest = others.length > 2 ? ` ${others.length - 2} more.` : ''
  return `${name}: ${first.message}. ${first.fix}${told.join('')}${rest}`
}
