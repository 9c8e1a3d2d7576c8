// Where the desktop runtime is, and whether a window can be opened on this machine.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { execPath, getuid, platform } from 'node:process'

/** Long enough for 110 MB on a slow line, short enough to wait for. */
const fetchLimitMs = 180_000

/**
 * Path of the runtime's executable, or null: what ELECTRON_OVERRIDE_DIST_PATH names, else what is installed.
 * Throws when the variable names a folder without a runtime: whoever set it meant it.
 * @param {string} root
 * @returns {string | null}
 */
export function findDesktop(root) {
  const folder = process.env.ELECTRON_OVERRIDE_DIST_PATH
  const file =
    { darwin: 'Electron.app/Contents/MacOS/Electron', win32: 'electron.exe' }[String(platform)] ?? 'electron'
  if (folder) {
    if (!existsSync(join(folder, file)))
      throw new Error(
        `ELECTRON_OVERRIDE_DIST_PATH: expected the desktop runtime in ${folder}, got no ${file}`,
      )
    return join(folder, file)
  }
  const pack = join(root, 'node_modules', 'electron')
  const installed = join(pack, 'dist', file)
  return existsSync(join(pack, 'path.txt')) && existsSync(installed) ? installed : null
}

/**
 * Fetches the runtime with the electron package's own installer; null when it cannot be had within the limit.
 * @param {string} root
 */
export function fetchDesktop(root) {
  const installer = join(root, 'node_modules', 'electron', 'install.js')
  const run = spawnSync(execPath, [installer], {
    stdio: 'ignore',
    timeout: fetchLimitMs,
    killSignal: 'SIGKILL',
  })
  return run.status === 0 ? findDesktop(root) : null
}

/** Windows and macOS always have a display; elsewhere a server for windows must be named. */
export function hasDisplay() {
  return (
    platform === 'darwin' ||
    platform === 'win32' ||
    Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY)
  )
}

/** The runtime refuses to run as root with its sandbox on. */
export function isRoot() {
  return getuid?.() === 0
}
