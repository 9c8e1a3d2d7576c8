import { type Described, type DescribedKey, describeBlock, describedKeys } from '../structure.ts'
import type { LayerRecord } from './records.ts'

/** Everything the structure library says of a layer, and the keys of blocks that it could not read. */
export interface LayerDescription extends Described {
  readonly unread: readonly DescribedKey[]
}

/** Effects come in up to three forms; the newest is the whole truth. */
const effectKeys: readonly DescribedKey[] = ['lmfx', 'lfx2', 'lrFX']

export function describeRecord(record: LayerRecord): LayerDescription {
  const effects = effectKeys.find(key => record.keys.has(key))
  const unread: DescribedKey[] = []
  let described: Described = {}
  for (const key of describedKeys) {
    if (effectKeys.includes(key) && key !== effects) continue
    const block = record.block(key)
    if (block === null) continue
    const one = describeBlock(key, block.take(block.left))
    if (one === null) unread.push(key)
    else described = { ...described, ...one }
  }
  return { ...described, unread }
}
