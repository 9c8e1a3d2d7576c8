import { spawnSync } from 'node:child_process'
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'

/** The machine's own commands are played, so that what the script decides is seen without installing anything. */

const script = fileURLToPath(new URL('../../.ci/run', import.meta.url))
let world: string

beforeEach(() => {
  world = mkdtempSync(join(tmpdir(), 'rakelight-ci-'))
  mkdirSync(join(world, 'project', '.ci'), { recursive: true })
  mkdirSync(join(world, 'bin'))
  cpSync(script, join(world, 'project', '.ci', 'run'))
  play('dpkg-query', 'echo "install ok installed"')
  play('apt-get', 'echo "apt-get $*" >> "$WORLD/calls"')
  play(
    'npm',
    'echo "npm $* with $(printenv ELECTRON_OVERRIDE_DIST_PATH || echo no runtime)" >> "$WORLD/calls"',
  )
})

afterEach(() => {
  rmSync(world, { recursive: true, force: true })
})

function play(name: string, does: string): void {
  writeFileSync(join(world, 'bin', name), `#!/bin/sh\n${does}\n`)
  chmodSync(join(world, 'bin', name), 0o755)
}

/** What puts a runtime into a folder, beside the project. */
function tool(does: string | null): void {
  const folder = join(world, 'shared', 'tools', 'electron-runtime')
  mkdirSync(folder, { recursive: true })
  if (does !== null) writeFileSync(join(folder, 'get.sh'), `${does}\n`)
}

/** A tool that makes a runtime which does so when started. */
function runtime(does: string): string {
  return `mkdir -p "$1"; printf '#!/bin/sh\\n${does}\\n' > "$1/electron"; chmod +x "$1/electron"`
}

function run(): { status: number | null; said: string; calls: string[] } {
  const { status, stdout } = spawnSync('bash', [join(world, 'project', '.ci', 'run')], {
    encoding: 'utf8',
    env: { PATH: `${join(world, 'bin')}:/usr/bin:/bin`, WORLD: world },
  })
  let calls: string[] = []
  try {
    calls = readFileSync(join(world, 'calls'), 'utf8').trim().split('\n')
  } catch {}
  return { status, said: stdout, calls }
}

describe('the CI run', () => {
  it('runs the README’s test line, and says that desktop tests are skipped where no runtime is at hand', () => {
    const { status, said, calls } = run()
    expect(status).toBe(0)
    expect(said).toContain('desktop tests: will be skipped by name')
    expect(calls).toEqual(['npm ci with no runtime', 'npm test with no runtime'])
    const readme = readFileSync(fileURLToPath(new URL('../../README.md', import.meta.url)), 'utf8')
    expect(readme).toContain('\n    npm ci && npm test\n')
  })

  it('fetches the runtime where its tool is, and says which', () => {
    tool(runtime('echo v25.1.1'))
    const { status, said, calls } = run()
    expect(status).toBe(0)
    expect(said).toContain('desktop tests: will run, on runtime v25.1.1')
    const place = join(world, 'project', '.cache', 'desktop-runtime')
    expect(calls).toEqual([`npm ci with ${place}`, `npm test with ${place}`])
  })

  it.each([
    ['fails', 'exit 1'],
    ['gives a runtime that does not start', runtime('exit 127')],
    ['gives nothing', 'exit 0'],
    ['is missing from its folder', null],
  ])('fails before any test where the tool %s', (_, does) => {
    tool(does)
    const { status, calls } = run()
    expect(status).not.toBe(0)
    expect(calls).toEqual([])
  })

  it('installs what a new machine lacks, and nothing else', () => {
    play('dpkg-query', 'case "$*" in *chromium*) exit 1;; *) echo "install ok installed";; esac')
    expect(run().calls.slice(0, 2)).toEqual([
      'apt-get update -q',
      'apt-get install -q -y --no-install-recommends chromium',
    ])
  })
})
