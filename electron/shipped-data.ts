import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { ShippedData } from '../core/art/read.ts'
import { distFolder } from './places.ts'
import { openPress } from './press.ts'

/** What lies with the program for art that is drawn: fonts and image programs are copied to `dist` by the build. */
export const shippedData: ShippedData = {
  font: name => shippedFile('fonts', name),
  codec: name => shippedFile('codecs', name),
  press: async () => {
    const { press } = await openPress({ intent: 'relative', blackPoint: true })
    return { engine: press.engine, profile: press.profile }
  },
}

/** A name is one that the program itself asks for; whatever leads elsewhere is refused all the same. */
async function shippedFile(folder: string, name: string): Promise<Uint8Array> {
  if (!/^(?:[\w-]+\/)*[\w-]+(?:\.\w+)?$/.test(name))
    throw new Error(`no file of the program is called "${name}"`)
  return new Uint8Array(await readFile(join(distFolder, folder, name)))
}
