import { effectKinds } from '../../effects/kinds.ts'
import { deepest, reliefDefaults } from '../../effects/parameters.ts'
import { sameTarget, setEffect } from '../edit.ts'
import type { Job } from '../job.ts'
import { type AssumedNumber, field } from './number.ts'

const depthWords = {
  unit: 'nm',
  usual: reliefDefaults.grooveDepthNm,
  range: [40, 120],
  status: 'proposed',
  source:
    'inferred: decorative boards look silver to champagne straight on, which a sinusoid of 40 to 80 nm does',
  measure:
    'Atomic force microscope on the embossed film; or the power of first order by mirror order under one laser.',
} as const

const shapeWords = {
  unit: '',
  usual: reliefDefaults.shape,
  range: null,
  status: 'proposed',
  source: 'no source; interference lithography gives rounded, nearly sinusoidal grooves',
  measure: 'Atomic force microscope: paste one period as heights in the effect’s card.',
  field: null,
} as const

/** Depth, shape and share of every grating that the job decides, and of those left to the rules. */
export function assumedOfRelief(job: Job): AssumedNumber[] {
  const decided = job.effects.flatMap(({ target, effect }): AssumedNumber[] => {
    const kind = effectKinds.find(one => one.name === effect.kind)
    const defaults = kind?.defaults ?? reliefDefaults
    if (!('grooveDepthNm' in defaults)) return []
    const all = { ...defaults, ...effect.parameters }
    const name = job.found.find(one => sameTarget(one.target, target))?.name ?? target.id
    const key = (what: string) => `effect.${target.kind}.${target.id}.${what}`
    const depth: AssumedNumber = {
      ...depthWords,
      key: key('grooveDepthNm'),
      group: 'Holography',
      name: `${name}: groove depth`,
      says: 'Peak to valley of the relief. It sets how bright the colours are and what tone the foil has straight on.',
      value: typeof all.grooveDepthNm === 'number' ? all.grooveDepthNm : reliefDefaults.grooveDepthNm,
      field: field([0, deepest], 1, value => given => {
        const now = given.effects.find(one => sameTarget(one.target, target))?.effect ?? effect
        return setEffect(target, { ...now, parameters: { ...now.parameters, grooveDepthNm: value } })(given)
      }),
    }
    if (!('shape' in defaults)) return [depth]
    return [
      depth,
      {
        ...shapeWords,
        key: key('shape'),
        group: 'Holography',
        name: `${name}: groove shape`,
        says: 'Cross-section of one groove. Set in the effect’s card.',
        value: typeof all.shape === 'string' ? all.shape : reliefDefaults.shape,
      },
    ]
  })
  const left = job.found.filter(
    one =>
      (job.roles.find(role => sameTarget(role.target, one.target))?.role ?? one.role) === 'holography' &&
      !job.effects.some(effect => sameTarget(effect.target, one.target)),
  )
  if (left.length === 0) return decided
  return [
    ...decided,
    {
      ...depthWords,
      key: 'effect.rest.grooveDepthNm',
      group: 'Holography',
      name: 'Other areas: groove depth',
      says: 'Of holography whose effect nobody has chosen yet. Choose its effect to set it.',
      value: reliefDefaults.grooveDepthNm,
      field: null,
    },
    {
      ...shapeWords,
      key: 'effect.rest.shape',
      group: 'Holography',
      name: 'Other areas: groove shape',
      says: 'Of holography whose effect nobody has chosen yet.',
      value: reliefDefaults.shape,
    },
  ]
}
