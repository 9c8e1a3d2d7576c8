import type { Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import { bakingsOf } from '../../reference/baking.ts'
import type { BoxMm } from '../finding.ts'
import { matterReader } from './matter-key.ts'
import { type SweepInput, type SweptSites, sweepSites } from './sweep-sites.ts'
import { sceneUnder } from './view-grid.ts'

/**
 * What a sweep depends on, in one short word: equal inputs, equal word. The map counts by the matter of the places alone,
 * so that an edit elsewhere on the carton leaves the sweep of an object good.
 */
export function sweepKey({ scene, map, places, grid, over, components }: SweepInput): string {
  const hash = new Hash()
  for (const lamp of grid.lamps) {
    const { light, board, view, leaf } = sceneUnder(scene, lamp)
    hash.text(JSON.stringify([light, board, leaf, view.eyeDistanceMm, view.eyeAt]))
  }
  hash.text(JSON.stringify([grid.turns, grid.tilts, over, components, map.widthMm, map.heightMm]))
  hash.text(JSON.stringify([bakingsOf(scene, map), map.viewSets ?? []]))
  const read = matterReader(map)
  for (const { column, row, xMm, yMm } of places) {
    hash.text(`${xMm} ${yMm}`)
    for (const value of read.at(column, row)) hash.add(value)
  }
  return hash.word()
}

/** A word for the matter of a map in a box, cut to the map: equal matter at the same place, equal word. */
export function matterWord(map: MaterialMap, { leftMm, bottomMm, rightMm, topMm }: BoxMm): string {
  const { width, height, widthMm, heightMm } = map
  const column = (mm: number) => Math.min(width, Math.max(0, Math.round((mm / widthMm) * width)))
  const row = (mm: number) => Math.min(height, Math.max(0, Math.round((1 - mm / heightMm) * height)))
  const [left, right, top, bottom] = [column(leftMm), column(rightMm), row(topMm), row(bottomMm)]
  const hash = new Hash()
  const read = matterReader(map)
  for (let y = top; y < bottom; y++)
    for (let x = left; x < right; x++) for (const value of read.at(x, y)) hash.add(value)
  return `${[left, right, top, bottom].join(' ')} ${hash.word()}`
}

/** FNV-1a with two seeds, 32 bits each. Fowler, Noll & Vo; the offset and the prime are those of draft-eastlake-fnv. */
class Hash {
  #a = 0x811c9dc5
  #b = 0x9e3779b9

  add(value: number): void {
    this.#a = Math.imul(this.#a ^ (value & 0xffff), 0x01000193)
    this.#b = Math.imul(this.#b ^ (value & 0xffff), 0x01000193)
    this.#b ^= this.#b >>> 15
  }

  text(words: string): void {
    for (let i = 0; i < words.length; i++) this.add(words.charCodeAt(i))
  }

  word(): string {
    return [this.#a, this.#b].map(part => (part >>> 0).toString(16).padStart(8, '0')).join('')
  }
}

/** Sweeps that were made, by their keys; the oldest go when all take more than so many bytes. */
export class SweepCache {
  readonly #kept = new Map<string, SweptSites>()
  readonly #mostBytes: number

  constructor(mostBytes = 64e6) {
    this.#mostBytes = mostBytes
  }

  /** The kept sweep of these inputs, or one made now. Throws as `sweepSites` does, and then keeps nothing. */
  get(input: SweepInput, task?: Task): SweptSites {
    const key = sweepKey(input)
    const swept = this.#kept.get(key) ?? sweepSites(input, task)
    // Asked for last, let go last.
    this.#kept.delete(key)
    this.#kept.set(key, swept)
    let bytes = [...this.#kept.values()].reduce((sum, one) => sum + bytesOf(one), 0)
    for (const [old, one] of this.#kept) {
      if (bytes <= this.#mostBytes || old === key) break
      this.#kept.delete(old)
      bytes -= bytesOf(one)
    }
    return swept
  }
}

const bytesOf = ({ light, most }: SweptSites): number => light.byteLength + most.byteLength
