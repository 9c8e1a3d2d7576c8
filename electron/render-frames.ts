import { availableParallelism } from 'node:os'
import type { PngPicture } from '../core/base/png.ts'
import { checkCancelled, type Task } from '../core/base/task.ts'
import type { MapPlane, MaterialMap, PlaneData } from '../core/material/map.ts'
import { pyramid } from '../core/material/mip.ts'
import type { Baking } from '../core/optics/bake.ts'
import { surround } from '../core/reference/display-picture.ts'
import type { Scene } from '../core/reference/scene.ts'
import { workerFile } from './places.ts'
import { WorkerPool } from './worker-pool.ts'
import type { FrameCrafts, FrameStyle, Packing } from './workers/frame.ts'

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
   * The scenes in order: RGB, or RGBA where the background is clear, row by row. A frame ahead is under way while one is
   * taken.
   * @param task progress counts finished rows of all frames; a signal closes the renderer
   */
  frames(scenes: readonly Scene[], style: FrameStyle, task?: Task): Frames<FramePicture> {
    return this.#inOrder(scenes, style, task, async picture => picture)
  }

  /** The same as bytes of a file, packed by the workers too. */
  packed(
    scenes: readonly Scene[],
    style: FrameStyle,
    as: (index: number) => Packing,
    task?: Task,
  ): Frames<Uint8Array<ArrayBuffer>> {
    return this.#inOrder(scenes, style, task, (picture, index) =>
      this.#pool.run('pack', { picture, as: as(index) }, undefined, [picture.data.buffer]),
    )
  }

  close(): Promise<void> {
    return this.#pool.close()
  }

  async *#inOrder<T>(
    scenes: readonly Scene[],
    style: FrameStyle,
    task: Task | undefined,
    then: (picture: FramePicture, index: number) => Promise<T>,
  ): Frames<T> {
    const whole = scenes.length * style.height
    let rows = 0
    const finished = (count: number) => {
      rows += count
      task?.progress?.(rows / whole, 'rendering')
    }
    const ahead: Promise<T>[] = []
    let next = 0
    // One listener for all rows: closing the pool gives up every one of them.
    const stop = () => void this.close()
    task?.signal?.addEventListener('abort', stop, { once: true })
    try {
      for (let frame = 0; frame < scenes.length; frame++) {
        checkCancelled(task)
        while (next < scenes.length && ahead.length < 2) {
          const index = next++
          const coming = this.#render(scenes[index]!, style, finished).then(picture => then(picture, index))
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

  async #render(scene: Scene, style: FrameStyle, finished: (rows: number) => void): Promise<FramePicture> {
    const { width, height, depth } = style
    const channels = style.background === 'transparent' ? 4 : 3
    const samples = width * height * channels
    const data = depth === 8 ? new Uint8Array(samples) : new Uint16Array(samples)
    const parts: Promise<void>[] = []
    for (let top = 0; top < height; top += rowsAtOnce) {
      const bottom = Math.min(height, top + rowsAtOnce)
      parts.push(
        this.#pool.run('rows', { scene, style, tile: { top, bottom } }).then(part => {
          data.set(part, top * width * channels)
          finished(bottom - top)
        }),
      )
    }
    await Promise.all(parts)
    return { width, height, channels, data }
  }
}

/** How a picture is drawn when nothing else is asked for. */
export const plainStyle = { depth: 8, background: surround } as const

export type FramePicture = PngPicture & { readonly data: Uint8Array<ArrayBuffer> | Uint16Array<ArrayBuffer> }
type Frames<T> = AsyncGenerator<T, void, undefined>

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
