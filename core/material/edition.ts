import type { MaterialMap } from './map.ts'

/** Numbers of tiles that differ, by plane, a map a level. */
export type Dirty = readonly ReadonlyMap<string, readonly number[]>[]

/** Levels whose planes were written over one another, in order. */
interface Chain {
  /** What each differs in from the one before it. */
  readonly steps: Dirty[]
}

interface Edition {
  readonly chain: Chain
  readonly number: number
}

/** Steps that are remembered. Who is further behind takes everything anew. */
const mostSteps = 64
const editions = new WeakMap<readonly MaterialMap[], Edition>()

/** Notes that `after` came of `before` in place, and what it differs in. */
export function nextEdition(
  before: readonly MaterialMap[],
  after: readonly MaterialMap[],
  dirty: Dirty,
): void {
  const known = editions.get(before) ?? { chain: { steps: [] }, number: 0 }
  editions.set(before, known)
  const number = known.number + 1
  known.chain.steps[number] = dirty
  delete known.chain.steps[number - mostSteps]
  editions.set(after, { chain: known.chain, number })
}

/** What `after` differs in from `before`; null when it did not come of it, or too long ago. */
export function dirtySince(before: readonly MaterialMap[], after: readonly MaterialMap[]): Dirty | null {
  const from = editions.get(before)
  const to = editions.get(after)
  if (!from || !to || from.chain !== to.chain || from.number > to.number) return null
  const steps: Dirty[] = []
  for (let number = from.number + 1; number <= to.number; number++) {
    const step = from.chain.steps[number]
    if (step === undefined) return null
    steps.push(step)
  }
  return after.map((_, level) => union(steps.map(step => step[level] ?? new Map())))
}

function union(steps: readonly ReadonlyMap<string, readonly number[]>[]) {
  const out = new Map<string, readonly number[]>()
  for (const step of steps)
    for (const [name, tiles] of step) {
      const known = out.get(name)
      out.set(name, known ? [...new Set([...known, ...tiles])].sort((a, b) => a - b) : tiles)
    }
  return out
}
