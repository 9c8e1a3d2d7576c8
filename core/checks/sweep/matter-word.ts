import type { MaterialMap } from '../../material/map.ts'
import type { BoxMm } from '../finding.ts'
import { partWord } from '../input-words.ts'
import { matterPlanes } from './matter-key.ts'

/** A word for the matter of a map in a box, cut to the map: equal matter at the same place, equal word. */
export function matterWord(map: MaterialMap, { leftMm, bottomMm, rightMm, topMm }: BoxMm): string {
  const { width, height, widthMm, heightMm } = map
  const column = (mm: number) => Math.min(width, Math.max(0, Math.round((mm / widthMm) * width)))
  const row = (mm: number) => Math.min(height, Math.max(0, Math.round((1 - mm / heightMm) * height)))
  const [left, right, top, bottom] = [column(leftMm), column(rightMm), row(topMm), row(bottomMm)]
  const part = { left, right, top, bottom }
  const words = matterPlanes(map).map(({ name }) => partWord(map.planes.get(name), map, part))
  return [left, right, top, bottom, ...words].join(' ')
}

/** FNV-1a with two seeds, 32 bits each. Fowler, Noll & Vo; the offset and the prime are those of draft-eastlake-fnv. */
export class Hash {
  #a = 0x811c9dc5
  #b = 0x9e3779b9

  add(value: number): void {
    this.#a = Math.imul(this.#a ^ (value & 0xffff), 0x01000193)
    this.#b = Math.imul(this.#b ^ (value & 0xffff), 0x01000193)
    this.#b ^= this.#b >>> 15
  }

  /** 53 of the bits, as a whole number. */
  number(): number {
    return (this.#a >>> 0) * 2 ** 21 + (this.#b >>> 11)
  }
}
