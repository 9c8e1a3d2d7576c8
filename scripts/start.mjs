// `npm start [FILE]`: the desktop window where it can be had, else the same app for a browser on this machine.
import { spawn } from 'node:child_process'
import { join, resolve } from 'node:path'
import { argv, cwd, execPath } from 'node:process'
import { fileURLToPath } from 'node:url'
import { build, workParts } from './build.mjs'
import { fetchDesktop, findDesktop, hasDisplay, isRoot } from './find/desktop.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const given = argv[2]
// npm changes into the project; the file was named from where the user stood.
const file = given === undefined ? [] : [resolve(process.env.INIT_CWD ?? cwd(), given)]

for (const part of ['renderer', ...workParts]) await build(part)
const desktop = await openDesktop()
if (typeof desktop === 'string') {
  console.log(desktop)
  await build('serve')
  run(execPath, [join(root, 'dist', 'serve', 'launch.mjs'), ...file])
} else {
  for (const part of ['main', 'preload']) await build(part)
  run(desktop.runtime, [...desktop.flags, root, ...file])
}

/** The runtime and its flags, or one sentence that says why there is no window. */
async function openDesktop() {
  const instead = 'so rakelight opens in a browser instead'
  if (!hasDisplay()) return `This session has no display, ${instead}.`
  // Tests and CI run as root in a throw-away machine; nobody else gets a window without its sandbox.
  if (isRoot() && !process.env.CI) return `The desktop window does not run as root, ${instead}.`
  const runtime = findDesktop(root) ?? fetchDesktop(root)
  if (runtime === null) return `The desktop runtime is not installed and could not be fetched, ${instead}.`
  if (isRoot()) console.log('Running as root in CI: the desktop window runs without its sandbox.')
  return { runtime, flags: isRoot() ? ['--no-sandbox'] : [] }
}

/**
 * @param {string} command
 * @param {readonly string[]} args
 */
function run(command, args) {
  const child = spawn(command, args, { stdio: 'inherit' })
  for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM']))
    process.on(signal, () => child.kill(signal))
  child.on('error', error => {
    console.error(`rakelight: ${error.message}`)
    process.exitCode = 1
  })
  child.on('exit', code => {
    process.exitCode = code ?? 1
  })
}
