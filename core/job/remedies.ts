import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import type { Remedy } from '../checks/finding.ts'
import { plain } from '../effects/plain.ts'
import { sameTarget, setEffect, setPanel, setRole, setWhite } from './edit.ts'
import type { Job } from './job.ts'
import { newRecipe, setMadeWhite } from './made-white.ts'
import { effectTarget } from './schema/effect.ts'
import { hits } from './schema/ink.ts'
import { role, target } from './schema/target.ts'
import { fields, maxLengthMm, oneOf, range, text } from './schema/value.ts'

/**
 * The job once a finding is mended as its remedy says: one edit, to be undone like any other. A remedy for an effect or a
 * white that the job no longer decides leaves it as it is. Throws BadInput for a remedy that this version does not know.
 */
export function applyRemedy(job: Job, { name, values }: Remedy): Job {
  const parsed = v.safeParse(schema, { name, ...values })
  if (!parsed.success)
    throw new BadInput(
      'unknown-remedy',
      'remedy',
      name,
      parsed.issues[0].message,
      'Mend it by hand, or check the job again with this version',
    )
  return edited(job, parsed.output)
}

const of = target.entries
const ofEffect = effectTarget.entries
const length = range(0.01, maxLengthMm, 'mm')

const schema = v.variant('name', [
  fields({ name: v.literal('set-role'), ...of, role }),
  fields({
    name: v.literal('read-amount'),
    ...of,
    role,
    from: oneOf(['alpha', 'darkness', 'lightness']),
  }),
  fields({ name: v.literal('print-hits'), ...of, hits }),
  fields({
    name: v.literal('effect-parameter'),
    ...ofEffect,
    parameter: text('a parameter'),
    value: v.number(),
  }),
  fields({ name: v.literal('plain-effect'), ...ofEffect }),
  fields({ name: v.literal('make-white'), under: text('ids of layers, one a line') }),
  fields({ name: v.literal('panel-size'), widthMm: length, heightMm: length }),
])

function edited(job: Job, one: v.InferOutput<typeof schema>): Job {
  switch (one.name) {
    case 'set-role':
      return setRole({ kind: one.kind, id: one.id }, one.role, null)(job)
    case 'read-amount':
      return setRole({ kind: one.kind, id: one.id }, one.role, { from: one.from })(job)
    case 'print-hits': {
      const white = job.whites.find(({ target }) => sameTarget(target, one))
      return white === undefined ? job : setWhite({ ...white, hits: one.hits })(job)
    }
    case 'effect-parameter': {
      const entry = job.effects.find(({ target }) => sameTarget(target, one))
      if (entry === undefined) return job
      const { effect } = entry
      const parameters = { ...effect.parameters, [one.parameter]: one.value }
      return setEffect(entry.target, { ...effect, parameters })(job)
    }
    case 'plain-effect': {
      const entry = job.effects.find(({ target }) => sameTarget(target, one))
      if (entry === undefined) return job
      // What a plain grating has too it keeps: pitch, direction, depth and share.
      const usual: Readonly<Record<string, unknown>> = plain.defaults
      const kept = Object.entries(entry.effect.parameters).filter(
        ([key, value]) => typeof value === typeof usual[key],
      )
      return setEffect(entry.target, {
        ...entry.effect,
        kind: plain.name,
        parameters: Object.fromEntries(kept),
      })(job)
    }
    case 'make-white':
      // One that somebody made goes before.
      return job.madeWhite === null
        ? setMadeWhite({ ...newRecipe(job), under: one.under.split('\n') })(job)
        : job
    case 'panel-size':
      return setPanel({ widthMm: one.widthMm, heightMm: one.heightMm })(job)
  }
}
