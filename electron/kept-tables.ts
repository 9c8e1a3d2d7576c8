import { type Baking, bakeTables, type Tables } from '../core/optics/bake.ts'

interface Kept {
  readonly key: string
  readonly condition: unknown
  readonly tables: Tables
}

/** Tables that were baked lately, by what they are of: spectra, metal, coats and their grooves seldom change. */
export class KeptTables {
  /** Asked for last, last. */
  #kept: readonly Kept[] = []

  of(baking: Baking): Tables {
    const { printing, ...plain } = baking
    const { condition = null, ...rest } = printing ?? {}
    const key = JSON.stringify([plain, rest])
    // A print condition is large and is read once a file: it is told by being the same one.
    const known = this.#kept.find(one => one.key === key && one.condition === condition)
    const now = known ?? { key, condition, tables: bakeTables(baking) }
    this.#kept = [...this.#kept.filter(one => one !== now), now].slice(-mostSets)
    return now.tables
  }
}

/** One for each spectrum of as many lamps as a job may have. */
export const mostSets = 6
