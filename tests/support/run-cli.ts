import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { main } from '../../electron/cli.ts'

export interface Ran {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** Runs the command line in this process, with its standard streams caught. */
export async function runCli(...args: string[]): Promise<Ran> {
  let out = ''
  let err = ''
  const code = await main(args, {
    out: {
      write: text => {
        out += text
      },
    },
    err: {
      write: text => {
        err += text
      },
    },
  })
  return { code, out, err }
}

const launcher = fileURLToPath(new URL('../../scripts/rakelight.mjs', import.meta.url))

/** Runs it as a user does, in a process of its own. */
export function launchCli(...args: string[]): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [launcher, ...args], { stdio: ['ignore', 'pipe', 'pipe'] })
    let out = ''
    let err = ''
    child.stdout.on('data', chunk => {
      out += chunk
    })
    child.stderr.on('data', chunk => {
      err += chunk
    })
    child.once('error', reject)
    child.once('close', code => resolve({ code, out, err }))
  })
}
