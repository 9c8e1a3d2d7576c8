import { parseArgs } from 'node:util'

/** A command line that cannot be understood: the message names the argument, the exit code is 2. */
export class UsageError extends Error {
  override readonly name = 'UsageError'
}

/** A flag: what its value is called in the help, or null when it takes none. */
export interface Flag {
  readonly value: string | null
  readonly says: string
  /** One letter, where there is a short form. */
  readonly short?: string
  /** The command makes no sense without it. */
  readonly needed?: true
}

export interface Usage {
  readonly name: string
  /** One line of what the command is for. */
  readonly says: string
  /** Names of the arguments without a flag; one in brackets may be left out. */
  readonly operands: readonly string[]
  readonly flags: Readonly<Record<string, Flag>>
}

export interface Args {
  readonly operands: readonly string[]
  /** Value of a flag that is marked as needed. */
  need(flag: string): string
  /** Value of a flag that was given. */
  value(flag: string): string | undefined
  has(flag: string): boolean
}

/**
 * Reads a command's arguments. A flag takes whatever follows it as its value, also when that begins with a minus:
 * `--lamp -10,60,400,4`. Throws UsageError.
 */
export function readArgs(usage: Usage, argv: readonly string[]): Args {
  const { values, positionals } = parse(usage, joinValues(usage, argv))
  const least = usage.operands.filter(name => !name.startsWith('[')).length
  const missing = usage.operands[positionals.length]
  if (positionals.length < least) throw new UsageError(`${usage.name}: ${missing} is missing`)
  const extra = positionals[usage.operands.length]
  if (extra !== undefined) throw new UsageError(`${usage.name}: "${extra}" is one argument too many`)
  for (const [name, flag] of Object.entries(usage.flags))
    if (flag.needed && !values.has(name))
      throw new UsageError(`${usage.name}: ${spelled(name, flag)} is missing`)
  return {
    operands: positionals,
    need: flag => values.get(flag) ?? '',
    value: flag => values.get(flag),
    has: flag => values.has(flag),
  }
}

/** A flag as it is typed, with the name of its value: `--size WxH`. */
export function spelled(name: string, flag: Flag): string {
  return `${flag.short === undefined ? `--${name}` : `-${flag.short}`}${flag.value === null ? '' : ` ${flag.value}`}`
}

function parse(usage: Usage, argv: readonly string[]) {
  const options = Object.fromEntries(
    Object.entries(usage.flags).map(([name, flag]) => [
      name,
      {
        type: flag.value === null ? ('boolean' as const) : ('string' as const),
        ...(flag.short === undefined ? {} : { short: flag.short }),
      },
    ]),
  )
  const { tokens, positionals } = parseArgs({
    args: [...argv],
    options,
    allowPositionals: true,
    strict: false,
    tokens: true,
  })
  const values = new Map<string, string>()
  for (const token of tokens) {
    if (token.kind !== 'option') continue
    const flag = usage.flags[token.name]
    if (flag === undefined) throw new UsageError(`${usage.name}: there is no flag ${token.rawName}`)
    if (flag.value === null && token.value !== undefined)
      throw new UsageError(`${usage.name}: ${token.rawName} takes no value`)
    if (flag.value !== null && (token.value === undefined || token.value === ''))
      throw new UsageError(`${usage.name}: ${token.rawName} needs a value: ${flag.value}`)
    if (values.has(token.name)) throw new UsageError(`${usage.name}: ${token.rawName} is given twice`)
    values.set(token.name, token.value ?? '')
  }
  return { values, positionals }
}

/** Ties each value to its flag, so that a leading minus is not taken for another flag. */
function joinValues(usage: Usage, argv: readonly string[]): readonly string[] {
  const out: string[] = []
  for (let i = 0; i < argv.length; i++) {
    const word = argv[i]!
    if (word === '--') return [...out, ...argv.slice(i)]
    const [name, flag] = flagOf(usage, word) ?? []
    const next = argv[i + 1]
    if (flag?.value == null) {
      out.push(word)
      continue
    }
    const value = next === undefined || flagOf(usage, next) !== null ? '' : next
    out.push(`--${name}=${value}`)
    if (value !== '') i++
  }
  return out
}

function flagOf(usage: Usage, word: string): readonly [name: string, flag: Flag] | null {
  const found = Object.entries(usage.flags).find(
    ([name, flag]) => word === `--${name}` || (flag.short !== undefined && word === `-${flag.short}`),
  )
  return found ?? null
}
