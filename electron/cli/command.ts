import type { Finding } from '../../core/base/finding.ts'
import type { Args, Usage } from './args.ts'

/** Where a command writes: results to `print`, progress and warnings to `say`. */
export interface Output {
  /** Standard output; a line end is added. */
  print(text: string): void
  /** Standard error; a line end is added. */
  say(text: string): void
  /** A progress line on standard error, written over by the next; null clears it. Nothing where that is no terminal. */
  progress(line: string | null): void
  /** Whether progress lines are seen. */
  readonly live: boolean
  /** Set when the user interrupts. */
  readonly signal: AbortSignal
}

/** One command of the command line: parses flags, reads files, calls core, writes files. */
export interface Command {
  readonly usage: Usage
  /** Rejects with BadInput for input that cannot be used, UsageError for flags that make no sense. */
  run(args: Args, output: Output): Promise<void>
}

/** The work is done and what it found fails the job: the exit code is 3. */
export class FindingsFail extends Error {
  override readonly name = 'FindingsFail'
  constructor(readonly count: number) {
    super(count === 1 ? '1 finding fails' : `${count} findings fail`)
  }
}

export const jsonFlag = { json: { value: null, says: 'print JSON instead of tables' } } as const

/** Said about pictures, models, effects, areas, plates and a print profile that are not as designed; the codes are those of their readers. */
export function assetNotes(findings: readonly Finding[]): readonly string[] {
  return findings
    .filter(
      ({ severity, code }) =>
        severity !== 'note' &&
        /^(asset|views?|model|picture|file|profile|ink|effect|outline|mask|plates)-/.test(code),
    )
    .map(({ where, message, fix }) => `Note: ${where}: ${message}. ${fix}`)
}
