import { readdirSync, readFileSync } from 'node:fs'
import type { Plane } from '../../../core/art/layer.ts'
import { type ReadOptions, readArt } from '../../../core/art/read.ts'
import { type ByteSource, memorySource } from '../../../core/base/source.ts'

/** Real files from public test collections; LICENSES.tsv beside them lists repository, commit and licence of each. */
export const artFolder = 'tests/fixtures/art'

export const artNames: readonly string[] = readdirSync(artFolder).filter(name => /\.ps[db]$/.test(name))

export const artBytes = (name: string): Uint8Array => new Uint8Array(readFileSync(`${artFolder}/${name}`))

export const openFixture = (name: string) => readArt(memorySource(name, artBytes(name)))

/** What the collection's own inventory says of each file, made with an independent reader. */
export interface Inventory {
  readonly mode: string
  readonly bits: number
  readonly channels: number
  /** Records in the file: layers, groups and the end markers of groups. */
  readonly records: number
}

export function inventory(): ReadonlyMap<string, Inventory> {
  const lines = readFileSync(`${artFolder}/LICENSES.tsv`, 'utf8').trim().split('\n').slice(1)
  return new Map(
    lines
      .map(line => line.split('\t'))
      .filter(([name, , , bits]) => /\.ps[db]$/.test(name!) && Number(bits) > 0)
      .map(([name, , mode, bits, channels, records]) => [
        name!,
        { mode: mode!, bits: Number(bits), channels: Number(channels), records: Number(records) },
      ]),
  )
}

/** Opens a source and decodes every plane that it promises. */
export async function decodeEverything(source: ByteSource, options?: ReadOptions) {
  const file = await readArt(source, options)
  const layerPlanes: Plane[] = []
  for (const layer of file.art.layers) {
    const planes = [
      ...layer.channelIds.map(id => file.layerPlane(layer.id, id)),
      file.maskPlane(layer.id),
      file.vectorMaskPlane(layer.id),
    ]
    for (const plane of await Promise.all(planes)) if (plane !== null) layerPlanes.push(plane)
  }
  return { file, layerPlanes }
}
