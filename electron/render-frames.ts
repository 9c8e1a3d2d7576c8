import { availableParallelism } from 'node:os'
import { checkCancelled, type Task } from '../core/base/task.ts'
import type { MapPlane, MaterialMap, PlaneData } from '../core/material/map.ts'
import { pyramid } from '../core/material/mip.ts'
import type { Baking } from '../core/optics/bake.ts'
import type { PictureSize } from '../core/reference/render.ts'
import type { Scene } from '../core/reference/scene.ts'
import { workerFile } from './places.ts'
import { WorkerPool } from './worker-pool.ts'
import type { FrameCrafts } from './workers/frame.ts'

/** Rows that one worker does at a time: short enough to keep all busy to the end. */
const rowsAtOnce = 32

/**
 * Renders scenes of one map on all cores unless told how many; the bytes do not depend on how many there are. To be
 * closed when no more are wanted.
 */
export class FrameRenderer {
  readonly #pool: WorkerPool<FrameCrafts>

  constructor(map: MaterialMap, bakings: readonly Baking[], workers = availableParallelism()) {
    const ground = { pyramid: pyramid(map).map(shared), bakings }
    this.#pool = new WorkerPool<FrameCrafts>(workerFile('frame'), workers, { name: 'ground', input: ground })
  }

  /**
   * The scenes in order: RGB, 8 bits, row by row. A frame ahead is under way while one is taken.
   * @param task progress counts finished rows of all frames; a signal closes the renderer
   */
  async *frames(
    scenes: readonly Scene[],
    size: PictureSize,
    task?: Task,
  ): AsyncGenerator<Uint8Array<ArrayBuffer>, void, undefined> {
    const whole = scenes.length * size.height
    let rows = 0
    const finished = (count: number) => {
      rows += count
      task?.progress?.(rows / whole, 'rendering')
    }
    const ahead: Promise<Uint8Array<ArrayBuffer>>[] = []
    let next = 0
    // One listener for all rows: closing the pool gives up every one of them.
    const stop = () => void this.close()
    task?.signal?.addEventListener('abort', stop, { once: true })
    try {
      for (let frame = 0; frame < scenes.length; frame++) {
        checkCancelled(task)
        while (next < scenes.length && ahead.length < 2) {
          const coming = this.#render(scenes[next++]!, size, finished)
          // Whoever takes it hears of its failure; until then it must not count as unheard.
          coming.catch(() => undefined)
          ahead.push(coming)
        }
        yield await ahead.shift()!
      }
    } finally {
      task?.signal?.removeEventListener('abort', stop)
    }
  }

  close(): Promise<void> {
    return this.#pool.close()
  }

  async #render(
    scene: Scene,
    size: PictureSize,
    finished: (rows: number) => void,
  ): Promise<Uint8Array<ArrayBuffer>> {
    const picture = new Uint8Array(size.width * size.height * 3)
    const parts: Promise<void>[] = []
    for (let top = 0; top < size.height; top += rowsAtOnce) {
      const bottom = Math.min(size.height, top + rowsAtOnce)
      parts.push(
        this.#pool.run('rows', { scene, size, tile: { top, bottom } }).then(part => {
          picture.set(part, top * size.width * 3)
          finished(bottom - top)
        }),
      )
    }
    await Promise.all(parts)
    return picture
  }
}

/** The same map with its planes in memory that all workers see, so that none holds a copy. */
function shared(map: MaterialMap): MaterialMap {
  return { ...map, planes: new Map([...map.planes].map(([name, plane]) => [name, sharedPlane(plane)])) }
}

function sharedPlane(plane: MapPlane): MapPlane {
  const data = inSharedMemory(plane.data)
  return plane.layout === 'full' ? { ...plane, data } : { ...plane, data, index: inSharedMemory(plane.index) }
}

function inSharedMemory<T extends PlaneData | Int32Array>(array: T): T {
  const place = new SharedArrayBuffer(array.byteLength)
  const Kind = array.constructor as new (buffer: SharedArrayBuffer) => T
  const copy = new Kind(place)
  copy.set(array)
  return copy
}
