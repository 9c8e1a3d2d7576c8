import type { CheckInput, Keep } from './input.ts'
import { InputWords } from './input-words.ts'
import type { MapPart } from './map-part.ts'
import { isOwner, noted } from './noted-input.ts'

/**
 * Keeps what parts of checks came to for as long as all that they read stays the same. What is read is noted while a part
 * runs, field by field, plane by plane, limit by limit: nothing is declared, so nothing can be left out.
 */
export class Keeper {
  readonly #kept = new Map<string, Kept>()
  #looks = 0

  /** The input of a new look at a job, whose parts are kept. What nobody asked for in the last eight is let go. */
  open(input: CheckInput): CheckInput {
    this.#looks++
    for (const [name, { asked }] of this.#kept) if (asked <= this.#looks - mostLooks) this.#kept.delete(name)
    return this.#keeping(input, new InputWords(input), [], null)
  }

  /**
   * @param runs parts that run, each within the one before: an outer part stands on what those within it read
   * @param part of the map that is there; null: all of it
   */
  #keeping(input: CheckInput, words: InputWords, runs: readonly Run[], part: MapPart | null): CheckInput {
    const read = (what: string): void => {
      for (const { notes } of runs) notes.set(what, words.of(what))
    }
    const keep: Keep = async (name, keys, make, within) => {
      for (const run of runs) run.within.add(name)
      const known = this.#kept.get(name)
      if (known && stands(known, keys, words)) {
        for (const run of runs) {
          for (const [what, word] of known.notes) run.notes.set(what, word)
          for (const inner of known.within) run.within.add(inner)
        }
        this.#ask(known)
        return known.value as Awaited<ReturnType<typeof make>>
      }
      const run: Run = { notes: new Map(), within: new Set() }
      const value = await make(this.#keeping(input, words, [...runs, run], within ?? part))
      this.#kept.set(name, { ...run, keys, value, asked: this.#looks })
      return value
    }
    return noted(input, read, keep, part)
  }

  #ask(known: Kept): void {
    known.asked = this.#looks
    for (const name of known.within) {
      const inner = this.#kept.get(name)
      if (inner) inner.asked = this.#looks
    }
  }
}

/**
 * Runs a part of a check, or takes what it came to before. A copy of an input with changes keeps nothing.
 * @param keys what it stands on beside the input it is given
 * @param part of the map that it looks at, so that it stands on no more of it; where results are kept there is nothing
 *   beyond. Left out: all of it
 */
export function kept<I extends Pick<CheckInput, 'keep'>, T>(
  input: I,
  name: string,
  keys: readonly unknown[],
  make: (input: I) => T | Promise<T>,
  part: MapPart | null = null,
): Promise<T> | T {
  const { keep } = input
  // The input that is given has all that the one that asked has.
  return keep === undefined || !isOwner(keep, input)
    ? make(input)
    : keep(name, keys, own => make(own as unknown as I), part)
}

/** Pictures of a check look too, between one check and the next. */
const mostLooks = 8

/** What a part that runs has read, with its word then, and the names of what it asked for itself. */
interface Run {
  readonly notes: Map<string, unknown>
  readonly within: Set<string>
}

interface Kept extends Run {
  readonly keys: readonly unknown[]
  readonly value: unknown
  /** Number of the look in which it was asked for last. */
  asked: number
}

const stands = (known: Kept, keys: readonly unknown[], words: InputWords): boolean =>
  known.keys.length === keys.length &&
  known.keys.every((one, i) => Object.is(one, keys[i])) &&
  [...known.notes].every(([what, word]) => words.is(what, word))
