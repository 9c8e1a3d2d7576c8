import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { isPlateName } from '../core/art/plate-name.ts'
import { BadInput } from '../core/base/finding.ts'

/** Paths of the pictures in a folder, by name; everything else in it is left alone. Rejects with BadInput where there are none. */
export async function platesIn(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true })
  const names = entries
    .filter(one => !one.isDirectory() && isPlateName(one.name))
    .map(one => one.name)
    .toSorted()
  if (names.length > 0) return names.map(name => join(folder, name))
  throw new BadInput(
    'folder-empty',
    folder,
    'the path',
    'is a folder without TIFF, PNG or JPEG in it',
    'Choose a file, or a folder of one image a plate',
  )
}
