import type { Task } from '../../core/base/task.ts'
import { partOf } from '../../core/base/task.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import {
  type DifferenceNumbers,
  differencePicture,
  lightDifference,
} from '../../core/export/light-difference.ts'
import type { Job } from '../../core/job/job.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import type { SignedLayer } from '../../core/proof/layers.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import type { PictureSize } from '../../core/reference/render.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { wholeLight } from '../../core/reference/whole-light.ts'
import { artLayers } from '../art-layers.ts'
import type { PlacedAsset, PlacedFile } from '../asset-places.ts'
import { KeptTables } from '../kept-tables.ts'
import { buildFromJob } from '../open-job.ts'
import { openProof } from '../open-proof.ts'
import type { PlacedArt } from '../placed-art.ts'
import { serveWork } from '../worker-side.ts'

/** What a side's map is made from. */
export type SideFrom =
  | {
      readonly kind: 'job'
      readonly art: PlacedArt | null
      readonly assets: readonly PlacedAsset[]
      readonly profile: PlacedFile | null
    }
  | { readonly kind: 'proof'; readonly path: string }

export type CompareCrafts = {
  /** X, Y, Z, met a pixel. */
  light: {
    input: {
      readonly key: string
      readonly from: SideFrom
      readonly job: Job
      readonly scene: Scene
      readonly size: PictureSize
    }
    value: Float32Array<ArrayBuffer>
  }
  /** Parts of the art of a job. */
  layers: {
    input: { readonly art: PlacedArt | null; readonly job: Job }
    value: readonly SignedLayer[]
  }
  difference: {
    input: { readonly a: Float32Array; readonly b: Float32Array; readonly white: XYZ }
    value: { readonly numbers: DifferenceNumbers; readonly rgb: Uint8Array<ArrayBuffer> }
  }
}

const tables = new KeptTables()
/** The map that was looked at last: while a hand tilts, it stays. */
let kept: { readonly key: string; readonly levels: readonly MaterialMap[] } | null = null

async function levelsOf(key: string, from: SideFrom, job: Job, task: Task): Promise<readonly MaterialMap[]> {
  if (kept?.key === key) return kept.levels
  kept = null
  const levels = pyramid(await mapOf(from, job, task))
  kept = { key, levels }
  return levels
}

async function mapOf(from: SideFrom, job: Job, task: Task): Promise<MaterialMap> {
  switch (from.kind) {
    case 'job':
      return (await buildFromJob({ ...from, job, changed: false }, task)).map
    case 'proof':
      return (await openProof(from.path)).map()
  }
}

serveWork<CompareCrafts>({
  async light({ key, from, job, scene, size }, task) {
    const levels = await levelsOf(key, from, job, partOf(task, 0, mapPart))
    const sets = bakingsOf(scene, levels[0]!).map(baking => tables.of(baking))
    const value = Float32Array.from(wholeLight(scene, levels, sets, size, partOf(task, mapPart, 1)))
    return { value, transfer: [value.buffer] }
  },
  async layers({ art, job }, task) {
    return { value: await artLayers(art, job, task) }
  },
  async difference({ a, b, white }) {
    const difference = lightDifference(a, b, white)
    const rgb = differencePicture(difference)
    return { value: { numbers: difference.numbers, rgb }, transfer: [rgb.buffer] }
  },
})

/** Part of a picture's work that goes into the map. */
const mapPart = 0.6
