import { BadInput } from '../core/base/finding.ts'
import { Cancelled } from '../core/base/task.ts'
import { approve } from './cli/approve.ts'
import { readArgs, UsageError } from './cli/args.ts'
import { carton } from './cli/carton.ts'
import { channels } from './cli/channels.ts'
import { check } from './cli/check.ts'
import { checkDie } from './cli/check-die.ts'
import { type Command, FindingsFail, type Output } from './cli/command.ts'
import { compare } from './cli/compare.ts'
import { effects } from './cli/effects.ts'
import { frames } from './cli/frames.ts'
import { detail, overview } from './cli/help.ts'
import { inspect } from './cli/inspect.ts'
import { job } from './cli/job.ts'
import { movie } from './cli/movie.ts'
import { plates } from './cli/plates.ts'
import { probeCommand } from './cli/probe.ts'
import { proof } from './cli/proof.ts'
import { report } from './cli/report.ts'
import { stills } from './cli/stills.ts'
import { verify } from './cli/verify.ts'
import { versions } from './cli/versions.ts'
import { passwordName } from './open-job.ts'
import { version } from './places.ts'

const commands: readonly Command[] = [
  inspect,
  channels,
  job,
  probeCommand,
  effects,
  carton,
  checkDie,
  check,
  frames,
  movie,
  report,
  proof,
  versions,
  compare,
  approve,
  verify,
  stills,
  plates,
]

/** Exit codes: done, input that cannot be used, a command line that cannot be understood, findings that fail, stopped. */
const codes = { done: 0, badInput: 1, usage: 2, fails: 3, stopped: 130 } as const

/** Where text goes: the two standard streams, or a test's own. */
export interface Streams {
  readonly out: TextStream
  readonly err: TextStream
}

interface TextStream {
  write(text: string): unknown
  readonly isTTY?: boolean
  readonly columns?: number
}

/** Runs one command line, without the program's name, and gives the exit code. Never rejects. */
export async function main(
  argv: readonly string[],
  streams: Streams = { out: process.stdout, err: process.stderr },
): Promise<number> {
  const stopper = new AbortController()
  const stop = () => stopper.abort()
  process.once('SIGINT', stop)
  const output = terminal(streams, stopper.signal)
  try {
    await run(argv, output)
    return codes.done
  } catch (error) {
    output.progress(null)
    return failed(error, output)
  } finally {
    process.removeListener('SIGINT', stop)
  }
}

async function run([name, ...rest]: readonly string[], output: Output): Promise<void> {
  const usages = commands.map(command => command.usage)
  if (name === undefined) throw new UsageError('no command is given')
  if (name === '--version') return output.print(version)
  if (name === '--help' || name === '-h') return output.print(overview(usages))
  if (name === 'help') {
    const [about] = rest
    return output.print(about === undefined ? overview(usages) : detail(find(about).usage))
  }
  const command = find(name)
  if (rest.includes('--help') || rest.includes('-h')) return output.print(detail(command.usage))
  await command.run(readArgs(command.usage, rest), output)
}

function find(name: string): Command {
  const command = commands.find(one => one.usage.name === name)
  if (command !== undefined) return command
  throw new UsageError(`there is no command "${name}"`)
}

function failed(error: unknown, output: Output): number {
  if (error instanceof UsageError) {
    output.say(`rakelight: ${error.message}\nTry: rakelight help`)
    return codes.usage
  }
  if (error instanceof Cancelled) {
    output.say('rakelight: stopped')
    return codes.stopped
  }
  if (error instanceof FindingsFail) {
    output.say(`rakelight: ${error.message}`)
    return codes.fails
  }
  const message = error instanceof Error ? error.message : String(error)
  output.say(
    error instanceof BadInput ? `rakelight: ${message}` : `rakelight: something went wrong: ${message}`,
  )
  if (error instanceof BadInput && error.code.startsWith('password-'))
    output.say(`Give it with --password, or as ${passwordName} in the environment.`)
  return codes.badInput
}

function terminal({ out, err }: Streams, signal: AbortSignal): Output {
  const live = err.isTTY ?? false
  let shown = ''
  const clear = () => {
    if (shown !== '') err.write('\r\u001b[K')
    shown = ''
  }
  return {
    live,
    signal,
    print: text => void out.write(`${text}\n`),
    say: text => {
      clear()
      err.write(`${text}\n`)
    },
    progress: line => {
      if (!live || line === shown) return
      clear()
      if (line === null) return
      shown = line.slice(0, Math.max(20, (err.columns ?? 80) - 1))
      err.write(shown)
    },
  }
}
