import type { ArtFile } from '../../core/art/layer.ts'
import type { Task } from '../../core/base/task.ts'
import type { BuiltMap, Picture } from '../../core/host/contract.ts'
import type { Job } from '../../core/job/job.ts'
import type { MapPlane } from '../../core/material/map.ts'
import type { Assigned, Target } from '../../core/roles/role.ts'
import {
  ArtShelf,
  blankFor,
  buildForJob,
  importArt,
  previewForJob,
  type ReadArt,
  rolesForJob,
} from '../art-work.ts'
import type { PlacedAsset, PlacedFile } from '../asset-places.ts'
import { type ReadAsset, readAsset } from '../asset-views.ts'
import { checkProfile } from '../press.ts'
import { partOf } from '../task-part.ts'
import { serveWork } from '../worker-side.ts'

export type ArtCrafts = {
  import: { input: { path: string }; value: ReadArt }
  /** A null path stands for a panel without art. */
  roles: { input: { path: string | null; job: Job }; value: readonly Assigned[] }
  map: {
    input: { path: string | null; job: Job; assets: readonly PlacedAsset[]; profile: PlacedFile | null }
    value: BuiltMap
  }
  profile: { input: { path: string }; value: string }
  asset: { input: { placed: PlacedAsset }; value: ReadAsset }
  preview: {
    input: { path: string | null; job: Job; target: Target; show: 'colour' | 'amount'; size: number }
    value: Picture
  }
}

const shelf = new ArtShelf()

serveWork<ArtCrafts>({
  async import({ path }, task) {
    const file = await shelf.open(path, partOf(task, 0, 0.1))
    return { value: await importArt(file, path, partOf(task, 0.1, 1)) }
  },
  async roles({ path, job }, task) {
    return { value: await rolesForJob(await fileOf(path, job, task), job, task) }
  },
  async asset({ placed }, task) {
    return { value: await readAsset(placed, task) }
  },
  async profile({ path }) {
    return { value: await checkProfile(path) }
  },
  async map({ path, job, assets, profile }, task) {
    const file = await fileOf(path, job, partOf(task, 0, 0.05))
    const value = await buildForJob(file, job, assets, profile, partOf(task, 0.05, 1))
    return { value, transfer: [...new Set([...value.map.planes.values()].flatMap(buffersOf))] }
  },
  async preview({ path, job, target, show, size }, task) {
    const value = await previewForJob(await fileOf(path, job, task), job, target, show, size, task)
    return { value, transfer: [value.rgba.buffer as ArrayBuffer] }
  },
})

async function fileOf(path: string | null, job: Job, task: Task): Promise<ArtFile> {
  return path === null ? blankFor(job) : shelf.open(path, task)
}

function buffersOf(plane: MapPlane): readonly ArrayBuffer[] {
  const arrays = plane.layout === 'full' ? [plane.data] : [plane.data, plane.index]
  return arrays.map(array => array.buffer as ArrayBuffer)
}
