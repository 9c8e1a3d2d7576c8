import type { ArtFile } from '../core/art/layer.ts'
import { BadInput } from '../core/base/finding.ts'
import { Cancelled, partOf, type Task } from '../core/base/task.ts'
import type { BuiltMap } from '../core/host/art.ts'
import { encodeWire } from '../core/host/wire.ts'
import { changeOf } from '../core/material/change.ts'
import { dirtySince } from '../core/material/edition.ts'
import { LiveMap } from '../core/material/live-map.ts'
import type { MaterialMap } from '../core/material/map.ts'
import { type JobWork, mapWork } from './art-work.ts'

/** Maps that a page may still hold while it asks for the next. */
const mostPast = 8

/**
 * The map of the job that is worked on. It follows edits where it can; a page that holds an earlier one gets what
 * changed since.
 */
export class LiveWork {
  #live: { readonly file: ArtFile; readonly map: LiveMap } | null = null
  /** Newest last. */
  #past: { readonly id: string; readonly levels: readonly MaterialMap[] }[] = []
  #last: Omit<BuiltMap, 'shown'> | null = null

  /** @param which levels of the map somebody looks at: pictures read coarser ones, checks do not */
  constructor(readonly which: 'levels' | 'finest' = 'levels') {}

  /**
   * @param id   names what the map is made from
   * @param from id of the map that the page holds, or null
   * @param soon a first look may come instead
   */
  async build(
    file: ArtFile,
    work: JobWork,
    { id, from, soon }: { readonly id: string; readonly from: string | null; readonly soon: boolean },
    task?: Task,
  ): Promise<BuiltMap> {
    const { options, assigned, findings: said } = await mapWork(file, work, partOf(task, 0, 0.4))
    const live = this.#live
    const held = this.#past.find(one => one.id === from)?.levels
    if (soon && held && this.#last && live?.file === file) {
      const look = await live.map.firstLook(options, partOf(task, 0.4, 1), held)
      if (look !== null) return { id, assigned, findings: this.#last.findings, shown: { kind: 'look', look } }
    }
    const map = await this.#follow(file, options, partOf(task, 0.4, 1))
    this.#past = [...this.#past.filter(one => one.id !== id), { id, levels: map.levels }].slice(-mostPast)
    this.#last = { id, assigned, findings: [...said, ...map.findings] }
    const before = this.#past.find(one => one.id === from)?.levels
    const dirty = before && dirtySince(before, map.levels)
    const shown: BuiltMap['shown'] = dirty
      ? { kind: 'change', change: changeOf(map.levels, dirty, before[0]!.print) }
      : { kind: 'whole', levels: map.levels }
    return { ...this.#last, shown }
  }

  /** The newest map as the page gets it, whole, in bytes; null when it is not the one of that id. */
  bytes(id: string): Uint8Array<ArrayBuffer> | null {
    if (this.#last?.id !== id || this.#live === null) return null
    const built: BuiltMap = { ...this.#last, shown: { kind: 'whole', levels: this.#live.map.levels } }
    return encodeWire(built)
  }

  async #follow(file: ArtFile, options: Parameters<LiveMap['edit']>[0], task: Task): Promise<LiveMap> {
    const live = this.#live
    if (live !== null && live.file === file) {
      try {
        if (await live.map.edit(options, task)) return live.map
      } catch (error) {
        // What is refused or given up was so before anything was painted; after anything else it is not to be trusted.
        if (!(error instanceof BadInput || error instanceof Cancelled)) this.#live = null
        throw error
      }
    }
    this.#live = null
    this.#past = []
    const map = await LiveMap.build(file, options, task, this.which)
    this.#live = { file, map }
    return map
  }
}
