import type { ArtFile } from '../core/art/layer.ts'
import { partOf, type Task } from '../core/base/task.ts'
import { shiftedMap } from '../core/checks/register/shifted-map.ts'
import { makeProof, type ProofInput } from '../core/export/proof.ts'
import type { MadeProof, ProofWish } from '../core/host/proofs.ts'
import { shownMotions } from '../core/job/register.ts'
import type { ProofVersion } from '../core/proof/version.ts'
import { dropRoomOrders } from '../core/reference/room-orders.ts'
import type { JobWork } from './art-work.ts'
import type { CheckWork } from './check-work.ts'

/** What a proof is made of beside the job's art. */
export interface ProofOrder extends ProofWish, Pick<ProofInput, 'notes' | 'scripts' | 'pictures'> {
  readonly of: ProofVersion
}

/** Makes the one file of a job's proof, as its plates lie. Rejects as `check` does. */
export async function proofWork(
  checks: CheckWork,
  file: ArtFile,
  work: JobWork,
  { checked, budget, ...order }: ProofOrder,
  task?: Task,
): Promise<MadeProof> {
  const judged = checked ? await checks.check(file, work, partOf(task, 0, 0.5)) : null
  const from = judged === null ? 0 : 0.5
  const { made, input } = await checks.ready(file, work, partOf(task, from, from + 0.1))
  const motions = shownMotions(work.job)
  const map = Object.keys(motions).length === 0 ? made.map : shiftedMap(made.map, motions)
  const { page, manifest } = makeProof(
    { ...order, budget, ...made, map, sets: input.sets, checked: judged?.list ?? null },
    partOf(task, from + 0.1, 1),
  )
  for (const tables of input.sets) dropRoomOrders(tables)
  const bytes = new TextEncoder().encode(page)
  const { of, detail, findings } = manifest
  return { bytes, id: of.id, madeAt: of.madeAt, detail, counts: findings.counts }
}
