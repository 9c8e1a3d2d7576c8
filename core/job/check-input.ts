import type { Art, ArtFile } from '../art/layer.ts'
import { BadInput, type Finding } from '../base/finding.ts'
import type { CheckFinding } from '../checks/finding.ts'
import type { CheckInput } from '../checks/input.ts'
import { type Limit, requireLimit } from '../checks/limits.ts'
import type { MaterialMap } from '../material/map.ts'
import { type Baking, bakeTables } from '../optics/bake.ts'
import type { Tables } from '../optics/tables.ts'
import { bakingsOf } from '../reference/baking.ts'
import type { Assigned } from '../roles/role.ts'
import { artCorners } from './carton.ts'
import { cartonFindings } from './carton-findings.ts'
import type { Job } from './job.ts'
import { sceneWith } from './scene.ts'
import { blankOf } from './solid.ts'
import { toldRemedy } from './told-remedy.ts'

/** What was made of a job's art before it is checked. */
export interface CheckedWork {
  readonly art: Art
  /** Null for a job without art. */
  readonly file: ArtFile | null
  readonly assigned: readonly Assigned[]
  readonly map: MaterialMap
}

/**
 * What the checks read of a job: its scene as it stands, its tables, its carton laid out flat.
 * @param bake makes tables, or has them from before
 */
export function checkInput(
  job: Job,
  { art, file, assigned, map }: CheckedWork,
  bake: (baking: Baking) => Tables = bakeTables,
): CheckInput {
  const [hand] = job.light.lamps
  const scene = sceneWith(job, hand.pose, job.view.pose)
  const made = blankOf(job)
  const blank = made instanceof BadInput ? null : made
  return {
    art,
    file,
    assigned,
    map,
    scene,
    sets: bakingsOf(scene, map).map(bake),
    blank,
    corners:
      blank === null || job.carton === null ? new Map() : artCorners(blank, job.carton.arts, job.panel),
    limits: job.limits,
    marked: job.marked,
  }
}

/**
 * Throws BadInput for a limit of the job that is outside its range. One that nobody knows is left alone: a later version
 * may have set it.
 */
export function requireLimits({ limits }: Pick<Job, 'limits'>, known: Readonly<Record<string, Limit>>): void {
  for (const [key, { value }] of Object.entries(limits)) {
    const limit = Object.hasOwn(known, key) ? known[key] : undefined
    if (limit !== undefined) requireLimit(key, limit, value)
  }
}

/** What was said of a job before any check, as findings of the list: its art, its map, its carton. */
export function toldFindings(job: Job, art: Art, found: readonly Finding[]): readonly CheckFinding[] {
  return [...found, ...cartonFindings(job)].map(finding => ({
    ...finding,
    check: 'preflight',
    key: `${finding.code}:${finding.where}`,
    box: null,
    held: null,
    measured: null,
    limit: null,
    remedy: toldRemedy(job, art, finding),
  }))
}
