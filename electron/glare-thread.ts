import type { Task } from '../core/base/task.ts'
import type { CheckFinding } from '../core/checks/finding.ts'
import { glareCheck } from '../core/checks/glare/glare.ts'
import { glareLimits } from '../core/checks/glare/limits.ts'
import type { CheckInput, CheckPart } from '../core/checks/input.ts'
import type { OwnLimits } from '../core/checks/limits.ts'
import type { MaterialMap } from '../core/material/map.ts'
import type { Tables } from '../core/optics/tables.ts'
import type { Scene } from '../core/reference/scene.ts'
import { workerFile } from './places.ts'
import { WorkerPool } from './worker-pool.ts'

/** What the glare check reads, as it goes to another thread. */
export interface GlareAsk {
  /** Without what only baking reads. */
  readonly map: Omit<MaterialMap, 'print'>
  readonly scene: Scene
  readonly limits: OwnLimits
  /** The same number, the same tables: what was worked out by them goes on. */
  readonly sets: readonly { readonly id: number; readonly tables: Tables }[]
}

export type GlareCrafts = {
  glare: { input: GlareAsk; value: readonly CheckFinding[] }
  /** Bytes of heap and buffers that the thread holds. */
  held: { input: null; value: number }
}

/** How often it is looked whether the work is to be given up, ms. */
const watchMs = 50

/** The glare check in a thread of its own, while other checks run in this one. */
export class GlareThread {
  readonly #pool = new WorkerPool<GlareCrafts>(workerFile('glare'), 1)
  readonly #ids = new WeakMap<Tables, number>()
  #count = 0

  /** The checks with glare done there. What it found here before is kept as that of any other. */
  among(parts: readonly CheckPart[]): readonly CheckPart[] {
    return parts.map(part =>
      part.name === glareCheck.name
        ? { ...part, beside: true, run: (input, task) => this.#run(this.#asked(input), task) }
        : part,
    )
  }

  held(): Promise<number> {
    return this.#pool.run('held', null)
  }

  close(): Promise<void> {
    return this.#pool.close()
  }

  /** The signal of a worker's task is only ever read: it is looked at now and then. */
  async #run(asked: GlareAsk, task: Task | undefined): Promise<readonly CheckFinding[]> {
    const stop = new AbortController()
    const watch = setInterval(() => {
      if (task?.signal?.aborted) stop.abort()
    }, watchMs)
    try {
      return await this.#pool.run('glare', asked, { ...task, signal: stop.signal })
    } finally {
      clearInterval(watch)
    }
  }

  /** Plain data: an input that notes what is read of it does not go from thread to thread. */
  #asked({ map, scene, limits, sets }: CheckInput): GlareAsk {
    const { width, height, pixelsPerMm, widthMm, heightMm, planes } = map
    const { whites, spots, varnish, gratings, viewSets, grooves, areas } = map
    const own = Object.keys(glareLimits).flatMap(key => {
      const limit = limits[key]
      return limit === undefined ? [] : [[key, limit] as const]
    })
    return {
      map: {
        ...{ width, height, pixelsPerMm, widthMm, heightMm },
        planes: new Map([...planes].map(([name, plane]) => [name, { ...plane }])),
        ...{ whites, spots, varnish, gratings, grooves, areas },
        ...(viewSets === undefined ? {} : { viewSets }),
      },
      scene,
      limits: Object.fromEntries(own),
      sets: sets.map(tables => ({ id: this.#idOf(tables), tables })),
    }
  }

  #idOf(tables: Tables): number {
    const known = this.#ids.get(tables)
    if (known !== undefined) return known
    this.#ids.set(tables, ++this.#count)
    return this.#count
  }
}
