import { createHash, randomUUID } from 'node:crypto'
import type { Task } from '../core/base/task.ts'
import type { BuiltMap } from '../core/host/art.ts'
import type { JobWork } from './art-work.ts'
import type { KeptWork } from './kept-work.ts'
import type { PlacedArt } from './placed-art.ts'
import type { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'

/** A job at rest this long is kept on the disk, ms. */
const keepAfter = 3000
/** A job that was opened this long is likely to be edited, ms: its map is made ready for it. */
const readyAfter = 1500

export interface MapWish {
  readonly art: PlacedArt | null
  readonly work: JobWork
  /** Everything that the map is made from; null where that cannot be told, and the map is not kept. */
  readonly inputs: unknown
  /** Id of the map that the page holds. */
  readonly from: string | null
  /** A first look may come instead. */
  readonly soon: boolean
}

/** Makes maps in a worker that follows edits, and keeps those at rest for the next sitting. */
export class MapMaker {
  readonly #pool: WorkerPool<ArtCrafts>
  readonly #kept: () => Promise<KeptWork>
  #later: NodeJS.Timeout | null = null
  /** The newest map, where it is not on the disk yet. */
  #unkept: { readonly id: string; readonly inputs: unknown } | null = null
  #readying: AbortController | null = null

  constructor(pool: WorkerPool<ArtCrafts>, kept: () => Promise<KeptWork>) {
    this.#pool = pool
    this.#kept = kept
  }

  async build(wish: MapWish, task: Task): Promise<BuiltMap> {
    const { art, work, inputs, from, soon } = wish
    const id = inputs === null ? randomUUID() : idOf(inputs)
    this.#rest()
    if (from === null && inputs !== null) {
      const before = await (await this.#kept()).get<BuiltMap>('map', inputs)
      if (before !== null) {
        this.#after(readyAfter, () => this.#makeReady(art, work, id))
        return before
      }
    }
    const built = await this.#pool.run('map', { art, ...work, id, from, soon }, task)
    if (built.shown.kind === 'look') return built
    this.#unkept = inputs === null ? null : { id, inputs }
    this.#after(keepAfter, () => this.#keep())
    return built
  }

  /** Keeps what is not kept yet. To be called before the pool is closed. */
  async close(): Promise<void> {
    this.#rest()
    this.#readying?.abort()
    await this.#keep()
  }

  /** The first edit of a job whose map came from the disk shall find a worker that knows it. */
  async #makeReady(art: PlacedArt | null, work: JobWork, id: string): Promise<void> {
    const readying = new AbortController()
    this.#readying = readying
    await this.#pool.run('ready', { art, ...work, id }, { signal: readying.signal })
  }

  async #keep(): Promise<void> {
    const unkept = this.#unkept
    if (unkept === null) return
    this.#unkept = null
    const bytes = await this.#pool.run('bytes', { id: unkept.id })
    if (bytes !== null) (await this.#kept()).putBytes('map', unkept.inputs, bytes)
  }

  #rest(): void {
    if (this.#later !== null) clearTimeout(this.#later)
    this.#later = null
  }

  /** Does something once nothing was asked for a while; that it failed only means that it is done again when needed. */
  #after(ms: number, what: () => Promise<void>): void {
    this.#rest()
    this.#later = setTimeout(() => void what().catch(() => undefined), ms)
    this.#later.unref()
  }
}

const idOf = (inputs: unknown): string => createHash('sha256').update(JSON.stringify(inputs)).digest('hex')
