/** Something a file or a job should be told. Nothing is lost by it; work goes on with the rest. */
export interface Finding {
  readonly severity: 'note' | 'warning' | 'error'
  /** Stable, kebab-case, e.g. `adjustment-not-reproduced`. */
  readonly code: string
  /** The place: a layer path, a channel name, a byte offset. */
  readonly where: string
  /** What was found. */
  readonly message: string
  /** What to do about it. */
  readonly fix: string
}

/**
 * Input that cannot be used at all: one clear sentence with the file, the place and what to do.
 * Shells print `message` and nothing else.
 */
export class BadInput extends Error {
  override readonly name = 'BadInput'
  constructor(
    readonly code: string,
    /** File name or job field. */
    readonly subject: string,
    /** Place inside it, e.g. `byte 26` or `layer 3 "Comet"`. */
    readonly where: string,
    readonly problem: string,
    readonly fix: string,
  ) {
    super(`${subject}: ${where}: ${problem}. ${fix}`)
  }
}
