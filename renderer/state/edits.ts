import type { EffectSpec } from '../../core/effects/effect.ts'
import type { Job, LampPath, LampPose } from '../../core/job/job.ts'
import type { Amount, RoleName, Target } from '../../core/roles/role.ts'
import { sameTarget } from './state.ts'

/** Edits from job to job. Each returns the same job when nothing changes. */

export const setRole =
  (target: Target, role: RoleName, amount: Amount | null) =>
  (job: Job): Job => ({ ...job, roles: put(job.roles, { target, role, amount }) })

/** Back to what the rules say. */
export const clearRole =
  (target: Target) =>
  (job: Job): Job => ({ ...job, roles: without(job.roles, target) })

export const setEffect =
  (target: Target, effect: EffectSpec) =>
  (job: Job): Job => ({ ...job, effects: put(job.effects, { target, effect }) })

export const setWhite =
  (target: Target, opacity: number, hits: number) =>
  (job: Job): Job => ({ ...job, whites: put(job.whites, { target, opacity, hits }) })

export const setPanel =
  (panel: Partial<Job['panel']>) =>
  (job: Job): Job => ({ ...job, panel: { ...job.panel, ...panel } })

export const setBoard =
  (board: Partial<Job['board']>) =>
  (job: Job): Job => ({ ...job, board: { ...job.board, ...board } })

export const setLight =
  (light: Partial<Job['light']>) =>
  (job: Job): Job => ({ ...job, light: { ...job.light, ...light } })

export const setLamp =
  (lamp: LampPose) =>
  (job: Job): Job => ({ ...job, light: { ...job.light, lamp } })

export const setPath =
  (index: number, path: LampPath) =>
  (job: Job): Job => ({ ...job, paths: job.paths.map((old, i) => (i === index ? path : old)) })

export const addPath =
  (path: LampPath) =>
  (job: Job): Job => ({ ...job, paths: [...job.paths, path] })

export const removePath =
  (index: number) =>
  (job: Job): Job => ({ ...job, paths: job.paths.filter((_, i) => i !== index) })

function put<T extends { readonly target: Target }>(list: readonly T[], entry: T): readonly T[] {
  const at = list.findIndex(old => sameTarget(old.target, entry.target))
  return at === -1 ? [...list, entry] : list.map((old, i) => (i === at ? entry : old))
}

function without<T extends { readonly target: Target }>(list: readonly T[], target: Target): readonly T[] {
  return list.filter(old => !sameTarget(old.target, target))
}
