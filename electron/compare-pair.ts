import { partOf, type Task } from '../core/base/task.ts'
import type { ComparedPanels } from '../core/export/compare-picture.ts'
import type { DifferenceNumbers } from '../core/export/light-difference.ts'
import type { Job } from '../core/job/job.ts'
import { sceneWith } from '../core/job/scene.ts'
import { checkStanding } from '../core/job/standing.ts'
import { type JobChange, versionChanges } from '../core/proof/changes.ts'
import { rolesTouched } from '../core/proof/layers.ts'
import { sceneWhite } from '../core/reference/baking.ts'
import { displayPicture } from '../core/reference/display-picture.ts'
import type { PictureSize } from '../core/reference/render.ts'
import type { Scene } from '../core/reference/scene.ts'
import type { RoleName } from '../core/roles/role.ts'
import type { Side } from './compare-side.ts'
import { workerFile } from './places.ts'
import { WorkerPool } from './worker-pool.ts'
import type { CompareCrafts } from './workers/compare.ts'

export interface ComparedPair extends ComparedPanels {
  readonly numbers: DifferenceNumbers
  readonly changes: readonly JobChange[]
}

/** Rays a pixel along each side. */
const grid = 2

/** Threads that nobody asked for this long give their maps back, ms. */
const restAfter = 120_000

/** Compares two sides, each in a thread of its own that keeps its map. To be closed when no more are wanted. */
export class ComparePair {
  readonly #pools: (WorkerPool<CompareCrafts> | null)[] = [null, null]
  #rest: NodeJS.Timeout | null = null
  #asked = 0

  /**
   * Both under the same light, held alike and shown alike. Rejects with BadInput, Cancelled when told to stop.
   * @param looked light and view for both
   */
  async compare(
    a: Side,
    b: Side,
    looked: Pick<Job, 'light' | 'view'>,
    { width, height }: { readonly width: number; readonly height: number },
    task?: Task,
  ): Promise<ComparedPair> {
    if (this.#rest !== null) clearTimeout(this.#rest)
    this.#asked++
    try {
      return await this.#compare(a, b, looked, { width, height, grid }, task)
    } finally {
      this.#asked--
      if (this.#asked === 0) {
        this.#rest = setTimeout(() => void this.close(), restAfter)
        this.#rest.unref()
      }
    }
  }

  async close(): Promise<void> {
    if (this.#rest !== null) clearTimeout(this.#rest)
    await Promise.all(this.#pools.splice(0, 2, null, null).map(pool => pool?.close()))
  }

  async #compare(
    a: Side,
    b: Side,
    looked: Pick<Job, 'light' | 'view'>,
    size: PictureSize,
    task?: Task,
  ): Promise<ComparedPair> {
    const { width, height } = size
    const scenes = [sceneOf(a, looked), sceneOf(b, looked)] as const
    const done: [number, number] = [0, 0]
    const both = (i: 0 | 1): Task => ({
      ...partOf(task, 0, 1),
      progress: (part, what) => {
        done[i] = part
        task?.progress?.((0.95 * (done[0] + done[1])) / 2, what)
      },
    })
    const [lightA, lightB] = await Promise.all([
      this.#light(0, a, scenes[0], size, both(0)),
      this.#light(1, b, scenes[1], size, both(1)),
    ])
    const white = sceneWhite(scenes[0])
    const { numbers, rgb } = await this.#pool(0).run(
      'difference',
      { a: lightA, b: lightB, white },
      partOf(task, 0.95, 1),
    )
    return {
      width,
      height,
      a: Uint8Array.from(displayPicture(lightA, scenes[0], 8)),
      b: Uint8Array.from(displayPicture(lightB, scenes[1], 8)),
      difference: rgb,
      numbers,
      changes: versionChanges(a, b, await this.#layersTouched(a, b, task)),
    }
  }

  /** Roles of the layers in which the art of both differs; null where it is the same, or a proof that has none. */
  async #layersTouched(a: Side, b: Side, task?: Task): Promise<readonly RoleName[] | null> {
    const hash = ({ sources }: Side) => sources.find(one => one.kind === 'art')?.sha256
    if (a.from.kind !== 'job' || b.from.kind !== 'job' || hash(a) === hash(b)) return null
    const [before, after] = await Promise.all([
      this.#pool(0).run('layers', { art: a.from.art, job: a.job }, partOf(task, 0.95, 1)),
      this.#pool(1).run('layers', { art: b.from.art, job: b.job }, partOf(task, 0.95, 1)),
    ])
    return rolesTouched(before, after)
  }

  #pool(which: 0 | 1): WorkerPool<CompareCrafts> {
    this.#pools[which] ??= new WorkerPool<CompareCrafts>(workerFile('compare'), 1)
    return this.#pools[which]
  }

  #light(which: 0 | 1, { key, from, job }: Side, scene: Scene, size: PictureSize, task: Task) {
    return this.#pool(which).run('light', { key, from, job, scene, size }, task)
  }
}

/** A side as it stands, under the light and in the view of both. */
function sceneOf({ job, name }: Side, { light, view }: Pick<Job, 'light' | 'view'>): Scene {
  for (const [i, lamp] of light.lamps.entries())
    checkStanding(lamp, view.pose, job.panel, name, `lamp ${i + 1}`)
  const shown = { ...job, light, view: { ...view, gamut: 'srgb' as const } }
  return sceneWith(shown, light.lamps[0].pose, view.pose)
}
