import { expect } from 'vitest'
import { BadInput } from '../../core/base/finding.ts'
import { type Mutant, mutant } from './mutate.ts'

/** What became of mutants. */
export interface Outcome {
  readonly read: number
  /** How often each name was given as the reason. */
  readonly refused: ReadonlyMap<string, number>
  /** ms of the slowest. */
  readonly longest: number
  /** Bytes that the process grew by. */
  readonly grown: number
}

/**
 * Reads mutants of files. Each must be read, or refused with file, place, reason and remedy; whatever else happens fails
 * the test with what was done to the file.
 */
export async function surviveAll(
  name: string,
  seeds: readonly Uint8Array[],
  count: number,
  words: readonly string[],
  read: (bytes: Uint8Array) => Promise<void>,
): Promise<Outcome> {
  const pieces = words.map(word => Uint8Array.from(word, letter => letter.charCodeAt(0) & 255))
  const refused = new Map<string, number>()
  let good = 0
  let longest = 0
  const before = process.memoryUsage().rss
  for (let number = 0; number < count; number++) {
    const made = mutant(seeds[number % seeds.length]!, number, pieces)
    const began = performance.now()
    const code = await oneOf(name, made, read)
    longest = Math.max(longest, performance.now() - began)
    if (code === null) good++
    else refused.set(code, (refused.get(code) ?? 0) + 1)
  }
  return { read: good, refused, longest, grown: process.memoryUsage().rss - before }
}

/** The name of the reason that it is refused for; null where it is read. */
async function oneOf(
  name: string,
  { what, bytes }: Mutant,
  read: (bytes: Uint8Array) => Promise<void>,
): Promise<string | null> {
  try {
    await read(bytes)
    return null
  } catch (error) {
    if (!(error instanceof BadInput)) throw new Error(`${what}: ${String(error)}`, { cause: error })
    expect(error.subject, what).toBe(name)
    for (const words of [error.code, error.where, error.problem, error.fix]) expect(words, what).not.toBe('')
    return error.code
  }
}
