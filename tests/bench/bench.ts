/** What one bench measured. Ratios are taken inside one run, so that the machine's speed falls out. */
export interface BenchResult {
  readonly title: string
  readonly rows: readonly BenchRow[]
}

export interface BenchRow {
  readonly name: string
  readonly value: number
  /** `s`, `ms`, `MB`, `x` (a ratio), … */
  readonly unit: string
  /** What the value must not exceed, or null where it is only reported. */
  readonly aim: number | null
}

/** Each file in this folder other than this one exports it. Progress may go to standard error. */
export type Bench = () => Promise<BenchResult>
