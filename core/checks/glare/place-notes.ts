import type { MaterialMap } from '../../material/map.ts'
import { matterReader } from '../sweep/matter-key.ts'
import { Hash } from '../sweep/matter-word.ts'
import type { SitePlace } from '../sweep/site-sweep.ts'

/**
 * Numbers that were worked out for places, by what they are of, as the light held one way. They stand on a place's own
 * matter alone, so that those of an earlier check go on where it is still the same; each is a Float32 whether it was
 * worked out or known.
 */
export class PlaceNotes {
  readonly #words: Float64Array
  readonly #known = new Map<string, Float32Array>()
  readonly #before: SettledNotes | null
  /** Of each place its index there, −1 for none. */
  readonly #from: Int32Array

  /** @param words one a place, equal for equal matter at the same place */
  constructor(words: Float64Array, before: SettledNotes | null) {
    this.#words = words
    this.#before = before
    this.#from = new Int32Array(before === null ? 0 : words.length)
    if (before === null) return
    const indices = new Map(Array.from(before.words, (word, i) => [word, i]))
    for (const [i, word] of words.entries()) this.#from[i] = indices.get(word) ?? -1
  }

  /**
   * So many numbers a place, place after place.
   * @param make writes those of a place from `at` on
   */
  of(what: string, each: number, make: (place: number, out: Float32Array, at: number) => void): Float32Array {
    const known = this.#known.get(what)
    if (known !== undefined) return known
    const start = this.#before?.starts.get(what)
    const out = new Float32Array(each * this.#words.length)
    for (let i = 0, at = 0; at < out.length; i++, at += each) {
      const from = start === undefined ? -1 : this.#from[i]!
      if (from < 0) make(i, out, at)
      else for (let k = 0; k < each; k++) out[at + k] = this.#before!.numbers[start! + from * each + k]!
    }
    this.#known.set(what, out)
    return out
  }

  /** What is kept of them, without the earlier ones. */
  settled(): SettledNotes {
    const all = [...this.#known.values()]
    const numbers = new Float32Array(all.reduce((sum, { length }) => sum + length, 0))
    const starts = new Map<string, number>()
    let start = 0
    for (const [what, own] of this.#known) {
      numbers.set(own, start)
      starts.set(what, start)
      start += own.length
    }
    return { words: this.#words, numbers, starts }
  }
}

/** Notes of a check that has ended. They lie in one array: a few numbers take less room than an array of their own. */
export interface SettledNotes {
  readonly words: Float64Array
  readonly numbers: Float32Array
  /** Where those of each thing begin, by what it is. */
  readonly starts: ReadonlyMap<string, number>
}

/** Notes of all sets of places that a check looks at, kept for the next one under the same lamps and eye. */
export class NoteBook {
  #before: ReadonlyMap<string, SettledNotes> = new Map()
  #now = new Map<string, PlaceNotes>()

  /** Begins a check; what one that was given up had is let go. */
  open(): void {
    this.#now = new Map()
  }

  /** Ends it: what it asked for is kept. */
  close(): void {
    this.#before = new Map(Array.from(this.#now, ([name, notes]) => [name, notes.settled()]))
    this.#now = new Map()
  }

  /** @param name of the set of places */
  notes(name: string, words: Float64Array): PlaceNotes {
    const known = this.#now.get(name)
    if (known !== undefined) return known
    const made = new PlaceNotes(words, this.#before.get(name) ?? null)
    this.#now.set(name, made)
    return made
  }
}

/** A word for each place: of where it lies and what is there. */
export function placeWords(map: MaterialMap, places: readonly SitePlace[]): Float64Array {
  const read = matterReader(map)
  return Float64Array.from(places, ({ column, row }) => {
    const hash = new Hash()
    hash.add(column)
    hash.add(row)
    for (const value of read.at(column, row)) hash.add(value)
    return hash.number()
  })
}
