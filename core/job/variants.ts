import { BadInput } from '../base/finding.ts'
import type { EffectSpec } from '../effects/effect.ts'
import type { EffectTarget } from '../effects/outline.ts'
import { type Changes, type Job, mostVariants } from './job.ts'

/**
 * A job and two to four designs of it: the base and its variants. The job's own fields show the chosen one; a variant
 * keeps what it changes, and `aside` keeps what the base has there. So everything that reads a job reads the design
 * that is shown, and a change of the base reaches every variant that has not changed the same.
 */

/** What a variant may have of its own. */
export const designFields = [
  'effects',
  'whites',
  'spots',
  'board',
  'whiteInk',
  'print',
] as const satisfies readonly (keyof Changes)[]

type Field = (typeof designFields)[number]

/** The job with another of its designs in its fields. @param index into the variants; null = the base. Throws RangeError. */
export function chooseVariant(index: number | null): (job: Job) => Job {
  return job => {
    if (index === job.variant) return job
    const base: Job = { ...job, ...job.aside, variant: null, aside: {} }
    if (index === null) return base
    const { changes } = variantAt(job, index)
    return { ...base, ...changes, variant: index, aside: only(base, changes) }
  }
}

/** Each design by its name, the base first, as a job that shows it. */
export function designs(job: Job): readonly { readonly name: string; readonly job: Job }[] {
  return [
    { name: baseName, job: chooseVariant(null)(job) },
    ...job.variants.map(({ name }, i) => ({ name, job: chooseVariant(i)(job) })),
  ]
}

export const baseName = 'Base'

/** The job that shows the design of this name. Throws BadInput where none or more than one has it. */
export function designNamed(job: Job, wanted: string, jobName: string): Job {
  const all = designs(job)
  const found = all.filter(one => one.name === wanted)
  if (found.length === 1) return found[0]!.job
  throw new BadInput(
    'no-such-design',
    jobName,
    'field "variants"',
    found.length === 0 ? `there is no design "${wanted}"` : `${found.length} designs are called "${wanted}"`,
    found.length === 0
      ? `Choose one of ${all.map(one => `"${one.name}"`).join(', ')}`
      : 'Give each a name of its own in the app',
  )
}

/** What an area has in the first other design that has it; null where none does. */
export function effectElsewhere(job: Job, target: EffectTarget): EffectSpec | null {
  for (const one of designs(job)) {
    const found = one.job.effects.find(({ target: { kind, id } }) => kind === target.kind && id === target.id)
    if (found !== undefined) return found.effect
  }
  return null
}

/** Puts what an edit did to the shown design where it belongs. @param before the job that was edited into `after` */
export function keptInVariant(before: Job, after: Job): Job {
  if (before.variant === null || after.variant !== before.variant || after.variants !== before.variants)
    return after
  const own = designFields.filter(field => after[field] !== before[field])
  if (own.length === 0) return after
  const { changes } = variantAt(after, before.variant)
  return {
    ...after,
    variants: after.variants.map((one, i) =>
      i === before.variant ? { ...one, changes: { ...changes, ...pick(after, own) } } : one,
    ),
    aside: { ...pick(before, own), ...before.aside },
  }
}

/** Adds a variant that begins as the shown design is, and shows it. A job with all the variants it may have stays. */
export function addVariant(name: string): (job: Job) => Job {
  return job => {
    if (job.variants.length >= mostVariants) return job
    const changes = job.variant === null ? {} : variantAt(job, job.variant).changes
    const variants = [...job.variants, { name, changes }]
    return chooseVariant(variants.length - 1)({ ...job, variants })
  }
}

/** Takes a variant away; the base is shown when it was the one. */
export function removeVariant(index: number): (job: Job) => Job {
  return job => {
    const base = chooseVariant(null)(job)
    const left = { ...base, variants: job.variants.filter((_, i) => i !== index) }
    if (job.variant === null || job.variant === index) return left
    return chooseVariant(job.variant > index ? job.variant - 1 : job.variant)(left)
  }
}

export function renameVariant(index: number, name: string): (job: Job) => Job {
  return job => ({
    ...job,
    variants: job.variants.map((one, i) => (i === index ? { ...one, name } : one)),
  })
}

/** What the shown variant has of its own goes back to the base's. */
export function dropChange(field: Field): (job: Job) => Job {
  return job => {
    if (job.variant === null || !Object.hasOwn(job.aside, field)) return job
    const index = job.variant
    const base = chooseVariant(null)(job)
    const variants = base.variants.map((one, i) =>
      i === index ? { ...one, changes: without(one.changes, field) } : one,
    )
    return chooseVariant(index)({ ...base, variants })
  }
}

function variantAt(job: Job, index: number) {
  const variant = job.variants[index]
  if (variant === undefined)
    throw new RangeError(`variant: expected an index below ${job.variants.length}, got ${index}`)
  return variant
}

const only = (from: Job, like: Changes): Changes =>
  pick(
    from,
    designFields.filter(field => Object.hasOwn(like, field)),
  )

const pick = (from: Job, names: readonly Field[]): Changes =>
  Object.fromEntries(names.map(name => [name, from[name]]))

const without = (changes: Changes, field: Field): Changes =>
  Object.fromEntries(Object.entries(changes).filter(([name]) => name !== field))
