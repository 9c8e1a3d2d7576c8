import { readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** Folder of this module: `dist/<part>` when bundled, `electron` when run from source by a test. */
const here = typeof __dirname === 'string' ? __dirname : dirname(fileURLToPath(import.meta.url))

/** The folder that holds every built part. */
export const distFolder = basename(dirname(here)) === 'dist' ? dirname(here) : join(here, '..', 'dist')

/** Absolute path of a built worker; `name` is its file in electron/workers without the ending. */
export function workerFile(name: string): string {
  return join(distFolder, 'workers', `${name}.cjs`)
}

/** The built page. */
export const pageFolder = join(distFolder, 'renderer')

/** The built preload script of the desktop window. */
export const preloadFile = join(distFolder, 'preload', 'preload.cjs')

/** As package.json states it. */
export const version = String(
  JSON.parse(readFileSync(join(distFolder, '..', 'package.json'), 'utf8')).version,
)
