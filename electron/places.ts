import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** Folder of this module: somewhere under `dist` when bundled, `electron` when run from source by a test. */
const here = typeof __dirname === 'string' ? __dirname : dirname(fileURLToPath(import.meta.url))

/** The program's own folder: the nearest one above that holds a package.json. */
const root = rootAbove(here)

/** The folder that holds every built part. */
export const distFolder = join(root, 'dist')

/** Absolute path of a built worker; `name` is its file in electron/workers without the ending. */
export function workerFile(name: string): string {
  return join(distFolder, 'workers', `${name}.cjs`)
}

/** The built page. */
export const pageFolder = join(distFolder, 'renderer')

/** The built preload script of the desktop window. */
export const preloadFile = join(distFolder, 'preload', 'preload.cjs')

/** As package.json states it. */
export const version = String(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version)

function rootAbove(folder: string): string {
  for (let at = folder; ; at = dirname(at)) {
    if (existsSync(join(at, 'package.json'))) return at
    if (at === dirname(at)) throw new Error(`no package.json above ${folder}`)
  }
}
