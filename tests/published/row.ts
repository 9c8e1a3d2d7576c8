import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** How sure the source is: printed there, worked from printed formulas, remembered, or only a habit of the trade. */
export const statuses = ['confirmed', 'computed', 'from memory', 'common practice'] as const
export type Status = (typeof statuses)[number]

/** One value from outside, and which number of ours it judges. */
export interface PublishedRow {
  readonly what: string
  /** Name of the quantity, and what it is asked for. */
  readonly ours: string
  readonly at: readonly (number | string)[]
  readonly value: number | readonly number[]
  /** Taken too, where the source itself knows two answers. */
  readonly or?: number
  /** Largest difference allowed, of all values or of each. */
  readonly tolerance: number | readonly number[]
  readonly unit?: string
  readonly source: string
  readonly status: Status
}

/** A row with our answer beside it. */
export interface JudgedRow extends PublishedRow {
  readonly found: readonly number[]
  /** Of the worst value: difference, and what it may be. */
  readonly difference: number
  readonly allowed: number
  readonly within: boolean
}

/** Answers of the code for one named quantity. */
export type Quantity = (at: PublishedRow['at']) => number | readonly number[]
export type Quantities = Readonly<Record<string, Quantity>>

/** A quantity of numbers alone. */
export const ofNumbers =
  (value: (...x: number[]) => number | readonly number[]): Quantity =>
  at =>
    value(...at.map(Number))

/** A quantity of a name and numbers. */
export const ofName =
  (value: (name: string, ...x: number[]) => number | readonly number[]): Quantity =>
  ([name, ...rest]) =>
    value(String(name), ...rest.map(Number))

/** The rows of each file, by its name. @param folder where the files lie */
export function readRows(folder: string): ReadonlyMap<string, readonly PublishedRow[]> {
  const names = readdirSync(folder).filter(name => name.endsWith('.json'))
  return new Map(
    names
      .sort()
      .map(name => [
        name.replace('.json', ''),
        JSON.parse(readFileSync(join(folder, name), 'utf8')) as PublishedRow[],
      ]),
  )
}

/** Throws where the quantity is not known, or answers another count of numbers than the source prints. */
export function judge(row: PublishedRow, quantities: Quantities): JudgedRow {
  const quantity = quantities[row.ours]
  if (quantity === undefined) throw new Error(`"${row.what}": there is no quantity "${row.ours}"`)
  const found = [quantity(row.at)].flat()
  const values = [row.value].flat()
  const tolerances = [row.tolerance].flat()
  if (found.length !== values.length)
    throw new Error(`"${row.what}": ${values.length} values are printed, ours are ${found.length}`)
  if (tolerances.length !== 1 && tolerances.length !== values.length)
    throw new Error(`"${row.what}": ${values.length} values, ${tolerances.length} tolerances`)
  const differences = values.map((value, i) => {
    const off = found[i]! - value
    const other = row.or === undefined ? off : found[i]! - row.or
    return Math.abs(other) < Math.abs(off) ? other : off
  })
  const allowed = values.map((_, i) => tolerances[i] ?? tolerances[0]!)
  const excess = differences.map((d, i) => (d === 0 ? 0 : Math.abs(d) / allowed[i]!))
  const worst = excess.indexOf(Math.max(...excess))
  // A number that is none compares as false, and so fails.
  const within = differences.every((d, i) => Math.abs(d) <= allowed[i]!)
  const at = Math.max(worst, 0)
  return { ...row, found, difference: differences[at]!, allowed: allowed[at]!, within }
}
