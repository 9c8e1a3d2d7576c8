import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Remedy } from '../checks/finding.ts'
import { remedies } from '../checks/remedy.ts'
import { pitchControl, validatedPitch } from '../effects/parameters.ts'
import type { Job } from './job.ts'

/** How the job mends what was said of its art and map before any check; null where only a person can. */
export function toldRemedy(job: Job, art: Art, { code, where }: Finding): Remedy | null {
  switch (code) {
    case 'aspect-differs': {
      const heightMm = (job.panel.widthMm * art.height) / art.width
      return remedies.panelSize(job.panel.widthMm, Number(heightMm.toFixed(2)))
    }
    case 'pitch-not-validated':
      return widerPitch(job, art, where)
    case 'role-changed': {
      const named = job.found.filter(({ target, name }) => `${target.kind} "${name}"` === where)
      const [found, ...more] = named
      if (found === undefined || more.length > 0) return null
      return remedies.setRole(found.target, found.role, 'Keep its part as it was')
    }
    default:
      return null
  }
}

/** An effect of one pitch gets the finest that the model is checked for. */
function widerPitch(job: Job, art: Art, where: string): Remedy | null {
  const named = job.effects.filter(({ target: { kind, id } }) =>
    [...(kind === 'layer' ? art.layers : kind === 'channel' ? art.channels : job.outlines)].some(
      one => one.id === id && `${kind} "${one.name}"` === where,
    ),
  )
  const [entry, ...more] = named
  if (entry === undefined || more.length > 0) return null
  const pitch = entry.effect.parameters.pitchNm
  if (typeof pitch !== 'number' || pitch >= validatedPitch) return null
  return remedies.effectParameter(entry.target, 'pitchNm', wide, `Widen the pitch to ${wide} nm`)
}

/** The finest pitch that the model is checked for, to the next step of its control, nm. */
const wide = pitchControl.step * Math.ceil(validatedPitch / pitchControl.step)
