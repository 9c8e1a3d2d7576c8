import { realpath, stat } from 'node:fs/promises'
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path'

/** Where a file of a job is. `outside` was only worked out from names and links: the file itself was not touched. */
export type ArtPlace =
  | { readonly state: 'found' | 'outside'; readonly path: string }
  | { readonly state: 'missing'; readonly path: string }

/**
 * Finds a file that a job names, as seen from the job's folder. A job may come from a stranger, so a name that
 * leads out of the folder, by itself or through a link, is `outside` and must be agreed to before it is read.
 * @param allowOutside the user has agreed
 */
export async function findBeside(jobPath: string, name: string, allowOutside: boolean): Promise<ArtPlace> {
  const folder = dirname(resolve(jobPath))
  const path = resolve(folder, ...name.split('/'))
  const named = isAbsolute(name) ? resolve(name) : path
  if (!allowOutside && !lies(named, folder)) return { state: 'outside', path: named }
  const real = await realpath(named).catch(() => null)
  if (real === null) return { state: 'missing', path: named }
  if (!allowOutside && !lies(real, await realpath(folder))) return { state: 'outside', path: named }
  const info = await stat(real).catch(() => null)
  return info?.isFile() ? { state: 'found', path: named } : { state: 'missing', path: named }
}

/** The art's name as a job in `jobPath` keeps it: relative, forward slashes. Another disk has no relative name. */
export function artPathFor(jobPath: string, artPath: string): string {
  return relative(dirname(resolve(jobPath)), resolve(artPath))
    .split(sep)
    .join('/')
}

function lies(path: string, folder: string): boolean {
  const way = relative(folder, path)
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way)
}
