import type { EffectSpec } from '../effects/effect.ts'
import type { EffectTarget, Outline } from '../effects/outline.ts'
import { asPrinted, type Film, type Overlay } from '../reference/overlay.ts'
import { withHandLamp } from '../reference/scene.ts'
import type { Amount, RoleName, Target } from '../roles/role.ts'
import type { Asset } from './asset.ts'
import type { JobCarton, SizedForm } from './carton.ts'
import type { ArtReading, Changes, Job, LampPath, LampPose, PanelPose } from './job.ts'

/** Edits from job to job; what an edit does not name stays the same object. */
type Edit = (job: Job) => Job

export const sameTarget = (a: EffectTarget, b: EffectTarget): boolean => a.kind === b.kind && a.id === b.id

/** `amount` null leaves the reading of the amount to the rules. */
export const setRole =
  (target: Target, role: RoleName, amount: Amount | null): Edit =>
  job => ({ ...job, roles: put(job.roles, { target, role, amount }) })

/** Back to what the rules say. */
export const clearRole =
  (target: Target): Edit =>
  job => ({ ...job, roles: without(job.roles, target) })

/** A layer whose name has the word gets the role from now on; a word taught again changes its role. */
export const teachWord =
  (word: string, role: RoleName): Edit =>
  job => ({
    ...job,
    aliases: [...job.aliases.filter(alias => alias.word !== word), { word, role }],
  })

export const forgetWord =
  (word: string): Edit =>
  job => ({ ...job, aliases: job.aliases.filter(alias => alias.word !== word) })

export const setEffect =
  (target: EffectTarget, effect: EffectSpec): Edit =>
  job => ({ ...job, effects: put(job.effects, { target, effect }) })

export const clearEffect =
  (target: EffectTarget): Edit =>
  job => ({ ...job, effects: without(job.effects, target) })

/** Folds the panel into a carton, or lays it flat for good. */
export const setCarton =
  (carton: JobCarton | null): Edit =>
  job => ({ ...job, carton })

/** Changes style, size or allowances of the carton that is there; the fold stays. A drawn one has none of these. */
export const setForm =
  (change: Partial<SizedForm>): Edit =>
  job => {
    if (job.carton === null || job.carton.form.from !== 'sizes') return job
    return { ...job, carton: { ...job.carton, form: { ...job.carton.form, ...change } } }
  }

/** Moves the fold slider; hinges that were set apart follow it again where `own` is empty. */
export const setFold =
  (fold: Partial<JobCarton['fold']>): Edit =>
  job =>
    job.carton === null ? job : { ...job, carton: { ...job.carton, fold: { ...job.carton.fold, ...fold } } }

export const setArts =
  (arts: JobCarton['arts']): Edit =>
  job =>
    job.carton === null ? job : { ...job, carton: { ...job.carton, arts } }

/** Adds a shape, or replaces the one of that id in its place. */
export const putOutline =
  (outline: Outline): Edit =>
  job => ({
    ...job,
    outlines: job.outlines.some(old => old.id === outline.id)
      ? job.outlines.map(old => (old.id === outline.id ? outline : old))
      : [...job.outlines, outline],
  })

/** Takes a shape away, and its effect in every design with it. */
export const removeOutline =
  (id: string): Edit =>
  job => {
    const bare = <D extends Changes>(design: D): D =>
      design.effects === undefined
        ? design
        : { ...design, effects: without(design.effects, { kind: 'outline', id }) }
    return {
      ...bare(job),
      outlines: job.outlines.filter(one => one.id !== id),
      aside: bare(job.aside),
      variants: job.variants.map(one => ({ ...one, changes: bare(one.changes) })),
    }
  }

/** An id that no outline of the job has, and a name to begin with. */
export function freshOutline(job: Job): Pick<Outline, 'id' | 'name'> {
  const taken = new Set(job.outlines.flatMap(one => [one.id, one.name]))
  let number = 1
  while (taken.has(`outline ${number}`) || taken.has(`Area ${number}`)) number++
  return { id: `outline ${number}`, name: `Area ${number}` }
}

/** Keeps an effect under a name; a name kept again changes its effect. */
export const putPreset =
  (name: string, effect: EffectSpec): Edit =>
  job => ({
    ...job,
    presets: job.presets.some(old => old.name === name)
      ? job.presets.map(old => (old.name === name ? { name, effect } : old))
      : [...job.presets, { name, effect }],
  })

export const removePreset =
  (name: string): Edit =>
  job => ({ ...job, presets: job.presets.filter(one => one.name !== name) })

/** A name that another preset has is not given twice: the job stays as it was. */
export const renamePreset =
  (name: string, next: string): Edit =>
  job =>
    next === '' || job.presets.some(one => one.name === next)
      ? job
      : { ...job, presets: job.presets.map(one => (one.name === name ? { ...one, name: next } : one)) }

export const setNestTurn =
  (nestTurnDeg: Job['nestTurnDeg']): Edit =>
  job => ({ ...job, nestTurnDeg })

/** What was measured of a white plate, and how it prints. */
export const setWhite =
  (white: Job['whites'][number]): Edit =>
  job => ({ ...job, whites: put(job.whites, white) })

export const clearWhite =
  (target: Target): Edit =>
  job => ({ ...job, whites: without(job.whites, target) })

export const setPanel =
  (panel: Partial<Job['panel']>): Edit =>
  job => ({ ...job, panel: { ...job.panel, ...panel } })

export const setBoard =
  (board: Partial<Job['board']>): Edit =>
  job => ({ ...job, board: { ...job.board, ...board } })

export const setLight =
  (light: Partial<Job['light']>): Edit =>
  job => ({ ...job, light: { ...job.light, ...light } })

export const setWhiteInk =
  (whiteInk: Partial<Job['whiteInk']>): Edit =>
  job => ({ ...job, whiteInk: { ...job.whiteInk, ...whiteInk } })

/** What was measured of a spot ink's solid; nothing measured takes the entry back. */
export const setSpot =
  (spot: Job['spots'][number]): Edit =>
  job => ({
    ...job,
    spots:
      spot.lab === null && spot.spectrum === null ? without(job.spots, spot.target) : put(job.spots, spot),
  })

export const setPrint =
  (print: Partial<Job['print']>): Edit =>
  job => ({ ...job, print: { ...job.print, ...print } })

/** A note that a number was measured, by whom and with what; an empty one takes the note back. */
export const setMeasured =
  (key: string, note: string): Edit =>
  job => ({
    ...job,
    measured: [
      ...job.measured.filter(one => one.key !== key),
      ...(note.trim() === '' ? [] : [{ key, note }]),
    ],
  })

export const setView =
  (view: Partial<Job['view']>): Edit =>
  job => ({ ...job, view: { ...job.view, ...view } })

/** How board, white and overprint lie on one another; what is left out stays. */
export const setOverlay =
  (change: Partial<Omit<Overlay, 'film'>>, film: Partial<Film> = {}): Edit =>
  job => {
    const before = job.view.overlay ?? asPrinted
    return setView({ overlay: { ...before, ...change, film: { ...before.film, ...film } } })(job)
  }

/** Puts lamp and panel where a path has them. */
export const setStanding =
  (lamp: LampPose, pose: PanelPose): Edit =>
  job => ({ ...job, light: withHandLamp(job.light, lamp), view: { ...job.view, pose } })

/** Adds a path, or replaces the one of that name in its place. */
export const putPath =
  (path: LampPath): Edit =>
  job => ({
    ...job,
    paths: job.paths.some(old => old.name === path.name)
      ? job.paths.map(old => (old.name === path.name ? path : old))
      : [...job.paths, path],
  })

export const removePath =
  (name: string): Edit =>
  job => ({ ...job, paths: job.paths.filter(path => path.name !== name) })

/** Adds pictures from files, or replaces those of that id. */
export const putAsset =
  (asset: Asset): Edit =>
  job => ({
    ...job,
    assets: job.assets.some(old => old.id === asset.id)
      ? job.assets.map(old => (old.id === asset.id ? asset : old))
      : [...job.assets, asset],
  })

/** Takes out assets that no effect names, in any design of the job. */
export const dropUnusedAssets: Edit = job => {
  const effects = [job, job.aside, ...job.variants.map(one => one.changes)].flatMap(one => one.effects ?? [])
  const named = new Set(effects.flatMap(one => Object.values(one.effect.parameters)))
  const assets = job.assets.filter(one => named.has(one.id))
  return assets.length === job.assets.length ? job : { ...job, assets }
}

/** How the art is read, as a whole: what is left out is read in the usual way. */
export const setReading =
  (reading: ArtReading): Edit =>
  job =>
    job.art === null ? job : { ...job, art: { path: job.art.path, sha256: job.art.sha256, ...reading } }

interface ForTarget {
  readonly target: EffectTarget
}

function put<T extends ForTarget>(list: readonly T[], entry: T): readonly T[] {
  return list.some(old => sameTarget(old.target, entry.target))
    ? list.map(old => (sameTarget(old.target, entry.target) ? entry : old))
    : [...list, entry]
}

function without<T extends ForTarget>(list: readonly T[], target: EffectTarget): readonly T[] {
  return list.filter(old => !sameTarget(old.target, target))
}
