import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { EffectTarget } from '../effects/outline.ts'
import { madeWhiteTarget } from '../material/plates.ts'
import { assignRoles } from '../roles/assign.ts'
import { sameTarget } from './edit.ts'
import type { Job } from './job.ts'

/**
 * Where a job and its art no longer agree: decisions about layers that are gone, and parts that the rules now see
 * otherwise than when the job was made. What the user decided by hand stands and is not reported.
 */
export function jobFindings(job: Job, art: Art): readonly Finding[] {
  const present = [
    ...art.layers.map((layer): EffectTarget => ({ kind: 'layer', id: layer.id })),
    ...art.channels.map((channel): EffectTarget => ({ kind: 'channel', id: channel.id })),
    ...job.outlines.map(({ id }): EffectTarget => ({ kind: 'outline', id })),
    ...(job.madeWhite === null ? [] : [madeWhiteTarget]),
  ]
  const isThere = (target: EffectTarget) => present.some(one => sameTarget(one, target))
  return [...goneFindings(job, isThere), ...changedFindings(job, art, isThere)]
}

function goneFindings(job: Job, isThere: (target: EffectTarget) => boolean): Finding[] {
  const decided = [
    ...job.roles.map(({ target }) => ({ target, what: 'its part' })),
    ...job.effects.map(({ target }) => ({ target, what: 'its holography' })),
    ...job.spots.map(({ target }) => ({ target, what: 'its measured ink' })),
    ...job.whites.map(({ target }) => ({ target, what: 'its measured white' })),
    ...[...(job.madeWhite?.under ?? []), ...(job.madeWhite?.knockOut ?? [])].map(id => ({
      target: { kind: 'layer', id } as const,
      what: 'its white made from the art',
    })),
  ]
  return decided
    .filter(({ target }) => !isThere(target))
    .map(({ target, what }) => ({
      severity: 'warning',
      code: 'target-gone',
      where: placeOf(job, target),
      message: `the art no longer has it, but the job decides ${what}`,
      fix: 'Decide again for the layer that took its place.',
    }))
}

function changedFindings(job: Job, art: Art, isThere: (target: EffectTarget) => boolean): Finding[] {
  const now = assignRoles(art, { aliases: [], choices: [] })
  return job.found.flatMap(({ target, role, name }): Finding[] => {
    const decided = job.roles.some(choice => sameTarget(choice.target, target))
    const fresh = now.find(one => sameTarget(one.target, target))
    if (decided || !isThere(target) || fresh === undefined || fresh.role === role) return []
    return [
      {
        severity: 'warning',
        code: 'role-changed',
        where: `${target.kind} "${name}"`,
        message: `was ${role} when the job was made and is now read as ${fresh.role} (${fresh.reason})`,
        fix: 'Set its part by hand to keep it as it was.',
      },
    ]
  })
}

function placeOf(job: Job, target: EffectTarget): string {
  const name = job.found.find(one => sameTarget(one.target, target))?.name
  return `${target.kind} ${name === undefined ? target.id : `"${name}"`}`
}
