import { blankHolography, blankWhite } from '../art/blank.ts'
import type { EffectSpec } from '../effects/effect.ts'
import type { EffectTarget } from '../effects/outline.ts'
import type { RoleName } from '../roles/role.ts'
import { type ArtChange, artChange } from './art-change.ts'
import { sameTarget } from './edit.ts'
import type { Changes, FoundRole, Job } from './job.ts'
import type { SeenPart } from './seen.ts'

/** Art as a job meets it: a fresh job for it is one. */
export type MetArt = Pick<Job, 'art' | 'found' | 'seen'>

/**
 * Other art, the first art, or the same art saved again or at another place. What was decided stays with its layer or ink,
 * also where that has another name now. A part that its new name alone would give another role keeps the one that it had;
 * where the rules see a part otherwise for another reason, the job goes on saying what they had found. What was chosen
 * on the blank panel goes to the art's own holography and white, in every design of the job.
 */
export const relinkArt =
  (met: MetArt) =>
  (job: Job): Job => {
    const { seen: before, ...rest } = job
    const { seen } = met
    const renamed =
      before === undefined || seen === undefined || job.art === null ? [] : artChange(before, seen).renamed
    const kept = followed(rest, renamed)
    const found = foundNow(job, met.found, renamed)
    const roles = [...kept.roles, ...keptRoles(kept.roles, job.found, met.found, renamed)]
    const moved: Job = { ...kept, art: met.art, found, roles, ...(seen === undefined ? {} : { seen }) }
    return job.art === null ? fromBlank(moved, met.found) : moved
  }

/** A job over another state of its art, with what changed; null where nothing is known of how the art lay before. */
export function metAgain(job: Job, met: MetArt): { readonly job: Job; readonly change: ArtChange | null } {
  const change = job.seen === undefined || met.seen === undefined ? null : artChange(job.seen, met.seen)
  return { job: relinkArt(met)(job), change }
}

type Renamed = readonly { readonly before: SeenPart; readonly after: SeenPart }[]

/**
 * What the rules found; of a part that they now see otherwise, and that nobody renamed, what they found before. A part
 * that is gone stays, with its name, while the job decides something of it.
 */
function foundNow(job: Job, now: readonly FoundRole[], renamed: Renamed): readonly FoundRole[] {
  if (job.art === null) return now
  const has = (list: readonly { readonly target: EffectTarget }[], { target }: FoundRole) =>
    list.some(one => sameTarget(one.target, target))
  const gone = job.found.filter(
    one =>
      !has(now, one) &&
      !renamed.some(({ before }) => sameTarget(before.target, one.target)) &&
      [job.roles, job.effects, job.whites, job.spots].some(list => has(list, one)),
  )
  const here = now.map(one => {
    const old = job.found.find(two => sameTarget(two.target, one.target))
    const isRenamed = renamed.some(({ after }) => sameTarget(after.target, one.target))
    return old === undefined || isRenamed || old.role === one.role ? one : { ...one, role: old.role }
  })
  return [...here, ...gone]
}

/** Roles of what was renamed, as they were; one that was ignored is looked at anew. */
function keptRoles(
  chosen: Job['roles'],
  before: readonly FoundRole[],
  now: readonly FoundRole[],
  renamed: Renamed,
): Job['roles'] {
  return renamed.flatMap(pair => {
    const old = before.find(one => sameTarget(one.target, pair.before.target))
    const fresh = now.find(one => sameTarget(one.target, pair.after.target))
    const decided = chosen.some(one => sameTarget(one.target, pair.after.target))
    if (decided || old === undefined || fresh === undefined) return []
    if (old.role === 'ignore' || old.role === fresh.role) return []
    return [{ target: fresh.target, role: old.role, amount: null }]
  })
}

/** The job's decisions, each with its part under the part's name of now. */
function followed<J extends Omit<Job, 'seen'>>(job: J, renamed: Renamed): J {
  const ways = renamed.filter(({ before, after }) => !sameTarget(before.target, after.target))
  if (ways.length === 0) return job
  const wayOf = (target: EffectTarget) => ways.find(({ before }) => sameTarget(before.target, target))
  const to = <T extends EffectTarget>(target: T): T => ({
    ...target,
    id: wayOf(target)?.after.target.id ?? target.id,
  })
  const layer = (id: string) => to({ kind: 'layer', id }).id
  const each = <T extends { readonly target: EffectTarget }>(list: readonly T[]): readonly T[] =>
    list.map(one => ({ ...one, target: to(one.target) }))
  const effectOf = (effect: EffectSpec): EffectSpec =>
    effect.follow === undefined || effect.follow.from === 'own'
      ? effect
      : { ...effect, follow: { ...effect.follow, from: { layerId: layer(effect.follow.from.layerId) } } }
  const design = <D extends Changes>(one: D): D => ({
    ...one,
    ...(one.effects === undefined
      ? {}
      : { effects: each(one.effects).map(entry => ({ ...entry, effect: effectOf(entry.effect) })) }),
    ...(one.whites === undefined ? {} : { whites: each(one.whites) }),
    ...(one.spots === undefined ? {} : { spots: each(one.spots) }),
  })
  return {
    ...design(job),
    roles: each(job.roles),
    madeWhite: job.madeWhite && {
      ...job.madeWhite,
      under: job.madeWhite.under.map(layer),
      knockOut: job.madeWhite.knockOut.map(layer),
    },
    measured: job.measured.map(one => ({ ...one, key: keyOf(one.key, ways) })),
    variants: job.variants.map(one => ({ ...one, changes: design(one.changes) })),
    aside: design(job.aside),
  }
}

/** A key of an assumed number that names a part: `white.channel.White.opacity`. */
function keyOf(key: string, ways: Renamed): string {
  for (const { before, after } of ways) {
    const named = `.${before.target.kind}.${before.target.id}.`
    if (key.includes(named)) return key.replace(named, () => `.${after.target.kind}.${after.target.id}.`)
  }
  return key
}

/** What was chosen on the blank panel goes to the art's own holography and white. */
function fromBlank(job: Job, found: readonly FoundRole[]): Job {
  const onto = <D extends Changes>(design: D): D => ({
    ...design,
    ...(design.effects === undefined
      ? {}
      : { effects: ontoArt(design.effects, blankHolography, 'holography', found) }),
    ...(design.whites === undefined ? {} : { whites: ontoArt(design.whites, blankWhite, 'white', found) }),
  })
  return {
    ...onto(job),
    aside: onto(job.aside),
    variants: job.variants.map(one => ({ ...one, changes: onto(one.changes) })),
  }
}

/** Entries of a blank layer become entries of every layer and channel of that role that has none of its own. */
function ontoArt<T extends { readonly target: EffectTarget }>(
  list: readonly T[],
  blank: string,
  role: RoleName,
  found: readonly FoundRole[],
): readonly T[] {
  const from = list.find(one => one.target.id === blank)
  const others = list.filter(one => one !== from)
  if (from === undefined) return list
  const bare = found.filter(
    one => one.role === role && !others.some(other => sameTarget(other.target, one.target)),
  )
  return [...others, ...bare.map(({ target }) => ({ ...from, target }))]
}
