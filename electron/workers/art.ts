import { partOf } from '../../core/base/task.ts'
import type { ArtPages, BuiltMap } from '../../core/host/art.ts'
import type { Picture } from '../../core/host/picture.ts'
import type { Job } from '../../core/job/job.ts'
import type { SignedLayer } from '../../core/proof/layers.ts'
import type { Assigned, Target } from '../../core/roles/role.ts'
import { artLayers } from '../art-layers.ts'
import { ArtShelf, importArt, type JobWork, previewForJob, type ReadArt, rolesForJob } from '../art-work.ts'
import type { PlacedAsset } from '../asset-places.ts'
import { type ReadAsset, readAsset } from '../asset-views.ts'
import { LiveWork } from '../live-work.ts'
import { pagePictures } from '../page-pictures.ts'
import type { PlacedArt, ReadingOf } from '../placed-art.ts'
import { checkProfile } from '../press.ts'
import { serveWork } from '../worker-side.ts'

export type ArtCrafts = {
  import: { input: { art: PlacedArt; reading: ReadingOf }; value: ReadArt }
  /** Small pictures of the pages of a file, longest side at most `size`. */
  pages: { input: { art: PlacedArt; size: number }; value: ArtPages }
  /** No art stands for a panel that has none yet. */
  /** Parts of the art with their hashes. */
  layers: { input: { art: PlacedArt | null; job: Job }; value: readonly SignedLayer[] }
  roles: { input: { art: PlacedArt | null; job: Job }; value: readonly Assigned[] }
  /** `from`: the map that the page holds already; `soon`: a first look may come instead. */
  map: {
    input: { art: PlacedArt | null; id: string; from: string | null; soon: boolean } & JobWork
    value: BuiltMap
  }
  /** The same map, so that edits of it are quick; nothing comes back. */
  ready: { input: { art: PlacedArt | null; id: string } & JobWork; value: null }
  /** The newest map whole, when it is that of the id. */
  bytes: { input: { id: string }; value: Uint8Array<ArrayBuffer> | null }
  profile: { input: { path: string }; value: string }
  asset: { input: { placed: PlacedAsset }; value: ReadAsset }
  preview: {
    input: { art: PlacedArt | null; job: Job; target: Target; show: 'colour' | 'amount'; size: number }
    value: Picture
  }
}

const shelf = new ArtShelf()
const live = new LiveWork()

serveWork<ArtCrafts>({
  async import({ art, reading }, task) {
    const file = await shelf.open(art, reading, partOf(task, 0, 0.1))
    return { value: await importArt(file, art.path, partOf(task, 0.1, 1)) }
  },
  async pages({ art, size }, task) {
    return { value: await pagePictures(art, size, task) }
  },
  async layers({ art, job }, task) {
    return { value: await artLayers(art, job, task) }
  },
  async roles({ art, job }, task) {
    return { value: await rolesForJob(await shelf.forJob(art, job, task), job, task) }
  },
  async asset({ placed }, task) {
    return { value: await readAsset(placed, task) }
  },
  async profile({ path }) {
    return { value: await checkProfile(path) }
  },
  async map({ art, id, from, soon, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
    const value = await live.build(file, work, { id, from, soon }, partOf(task, 0.05, 1))
    return { value, transfer: buffersOf(value) }
  },
  async ready({ art, id, ...work }, task) {
    const file = await shelf.forJob(art, work.job, task)
    await live.build(file, work, { id, from: id, soon: false }, task)
    return { value: null }
  },
  async bytes({ id }) {
    const value = live.bytes(id)
    return { value, transfer: value === null ? [] : [value.buffer] }
  },
  async preview({ art, job, target, show, size }, task) {
    const value = await previewForJob(await shelf.forJob(art, job, task), job, target, show, size, task)
    return { value, transfer: [value.rgba.buffer as ArrayBuffer] }
  },
})

/** What moves to the other thread: a change and a first look hold nothing that is needed here. */
function buffersOf({ shown }: BuiltMap): readonly ArrayBuffer[] {
  switch (shown.kind) {
    case 'whole':
      return []
    case 'change':
      return shown.change.levels.flatMap(planes =>
        [...planes.values()].flatMap(({ tiles, kinds, data }) =>
          [tiles, kinds, data].map(array => array.buffer as ArrayBuffer),
        ),
      )
    case 'look':
      return [...shown.look.planes.values()].map(({ data }) => data.buffer as ArrayBuffer)
  }
}
