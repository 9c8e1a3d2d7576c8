import type { Art } from '../art/layer.ts'
import { BadInput } from '../base/finding.ts'
import type { CheckList } from '../checks/run.ts'
import { assumedNumbers, measuredNote } from '../job/assumed.ts'
import type { Job } from '../job/job.ts'
import { rigs } from '../job/rigs.ts'
import { sceneWith } from '../job/scene.ts'
import { solidOf } from '../job/solid.ts'
import { checkStanding } from '../job/standing.ts'
import type { Scene } from '../reference/scene.ts'
import type { Assigned } from '../roles/role.ts'
import { cautions } from './caution.ts'
import type { FittedMap } from './fit.ts'
import {
  type AssumedLine,
  type ProofFindings,
  type ProofLight,
  type ProofManifest,
  type ProofStrip,
  proofFormat,
  proofVersion,
} from './manifest.ts'
import { proofLabel } from './names.ts'
import type { Note } from './notes.ts'
import type { ProofVersion } from './version.ts'

/** What a proof tells of beside its map. */
export interface ProofTold {
  readonly of: ProofVersion
  readonly art: Art
  readonly assigned: readonly Assigned[]
  /** Null where the proof is made without checks. */
  readonly checked: CheckList | null
  readonly notes: readonly Note[]
  readonly strip: ProofStrip
}

/** The whole description of a proof. */
export function proofManifest(told: ProofTold, { map, planes, detail }: FittedMap): ProofManifest {
  const { of, checked, notes, strip } = told
  const { job } = of
  const { planes: _, print, ...head } = map
  return {
    format: proofFormat,
    version: proofVersion,
    of,
    map: { ...head, print: print ? withoutTable(print) : null },
    planes: planes.map(({ entry }) => entry),
    detail,
    scene: bareScene(job),
    solid: solidOf(job) ?? null,
    lights: lightsOf(job),
    paths: job.paths,
    assumed: assumedLines(job, told),
    findings: findingsOf(checked),
    notes,
    label: proofLabel,
    caution: cautions,
    strip,
  }
}

function withoutTable({ name, rendering, solids }: NonNullable<FittedMap['map']['print']>) {
  return { name, rendering, solids }
}

/** As the job was left; what stands on the table is told beside it. */
function bareScene(job: Job): Scene {
  const { solid: _, ...scene } = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  return scene
}

/** The job's own light, then every rig that is another and stands clear of the panel. */
function lightsOf(job: Job): readonly ProofLight[] {
  const own = JSON.stringify(job.light)
  const others = rigs.filter(({ light }) => JSON.stringify(light) !== own && standsClear(job, light))
  return [
    { name: 'As in the job', says: 'Lamps and room as the job was left', light: job.light },
    ...others.map(({ name, says, light }) => ({ name, says, light })),
  ]
}

/** Whether no lamp reaches into the panel as the job holds it. */
export function standsClear(
  { view, panel }: Pick<Job, 'view' | 'panel'>,
  { lamps }: Scene['light'],
  pose = view.pose,
): boolean {
  try {
    for (const lamp of lamps) checkStanding(lamp, pose, panel, '', '')
    return true
  } catch (error) {
    if (error instanceof BadInput) return false
    throw error
  }
}

function assumedLines(
  job: Job,
  { art, assigned }: Pick<ProofTold, 'art' | 'assigned'>,
): readonly AssumedLine[] {
  return assumedNumbers(job, { art, assigned }).map(({ key, group, name, value, unit, status }) => ({
    group,
    name,
    value: `${typeof value === 'number' ? Number(value.toPrecision(6)) : value}${unit === '' ? '' : ` ${unit}`}`,
    status,
    measured: measuredNote(job, key),
  }))
}

/** Findings that are told one by one; the rest is counted. */
const mostTold = 40

function findingsOf(checked: CheckList | null): ProofFindings {
  if (checked === null) return { counts: null, told: [] }
  const { fails, warnings, notes } = checked.sums
  return {
    counts: { error: fails, warning: warnings, note: notes },
    told: checked.findings
      .filter(({ waiver }) => waiver === null)
      .slice(0, mostTold)
      .map(({ severity, where, message, fix }) => ({ severity, where, message, fix })),
  }
}
