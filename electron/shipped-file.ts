import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { distFolder } from './places.ts'

/**
 * A file that the build copied into a folder of `dist`. A name is one that the program itself asks for; whatever leads
 * elsewhere is refused all the same.
 */
export async function shippedFile(folder: 'fonts' | 'codecs', name: string): Promise<Uint8Array> {
  if (!/^(?:[\w-]+\/)*[\w-]+(?:\.\w+)?$/.test(name))
    throw new Error(`no file of the program is called "${name}"`)
  return new Uint8Array(await readFile(join(distFolder, folder, name)))
}
