import type { Finding } from '../../base/finding.ts'
import { saveAgain } from '../place.ts'
import type { LayerDescription } from './describe.ts'
import { blendNames } from './keys.ts'
import type { LayerRecord } from './records.ts'

const flatten = 'Merge the layer in the art where its look matters.'

/** What a reader of this record must be told: what is not reproduced, and what was odd in it. */
export function judgeRecord(
  record: LayerRecord,
  described: LayerDescription,
  look: { readonly blendKey: string; readonly adjustment: string | null; readonly pixels: boolean },
): Finding[] {
  const found: Finding[] = []
  const where = record.place.part ?? ''
  const tell = (severity: Finding['severity'], code: string, message: string, fix: string): void => {
    found.push({ severity, code, where, message, fix })
  }
  const seen = record.hidden ? 'note' : 'warning'
  if (look.adjustment !== null)
    tell(seen, 'adjustment-not-reproduced', `the adjustment "${look.adjustment}" is not applied`, flatten)
  if (described.effects && described.effects.length > 0)
    tell(seen, 'effect-not-reproduced', `effects are not drawn: ${described.effects.join(', ')}`, flatten)
  // Pixels of a shape, where the file has them, include its outline.
  if (described.stroke && !look.pixels)
    tell(seen, 'effect-not-reproduced', 'the outline of the shape is not drawn', flatten)
  if (described.fill && described.fill.kind !== 'color' && !look.pixels)
    tell(seen, 'fill-not-reproduced', `the ${described.fill.kind} fill has no pixels in the file`, flatten)
  if (look.blendKey === 'diss')
    tell(
      seen,
      'blend-not-reproduced',
      'dissolve scatters pixels by a pattern that the file does not hold',
      flatten,
    )
  if (!blendNames.has(look.blendKey))
    tell('warning', 'blend-unknown', `blend mode "${look.blendKey}" is unknown; normal is used`, saveAgain)
  if (record.clipping > 1)
    tell(
      'warning',
      'clipping-unknown',
      `expected clipping 0 or 1, got ${record.clipping}; taken as not clipped`,
      saveAgain,
    )
  if (rangesLimit(record.blendRanges))
    tell(
      seen,
      'blend-range-not-reproduced',
      'it is blended only over a range of tones, which is not done',
      flatten,
    )
  if (firstByte(record, 'knko') > 0)
    tell(seen, 'knockout-not-reproduced', 'it knocks out what lies below it, which is not done', flatten)
  if (record.keys.has('artb'))
    tell(
      seen,
      'artboard-not-reproduced',
      'it is an artboard; its ground and its edges are not drawn',
      flatten,
    )
  const restricted = record.block('brst')
  if (restricted !== null && restricted.left >= 4)
    tell(
      seen,
      'channel-limit-not-reproduced',
      'it is blended into some channels only, which is not done',
      flatten,
    )
  for (const channel of record.channels)
    if (channel.id < -3 || channel.id > 55)
      tell(
        'warning',
        'channel-unknown',
        `channel number ${channel.id} means nothing and is left out`,
        saveAgain,
      )
  if (described.unread.length > 0)
    tell(
      'warning',
      'structure-unreadable',
      `its blocks ${described.unread.join(', ')} (text, fill or effects) could not be read`,
      saveAgain,
    )
  return found
}

function firstByte(record: LayerRecord, key: string): number {
  return record.block(key)?.peekByte() ?? 0
}

/** Ranges come as pairs of four bytes; 0 0 255 255 lets every tone through. */
function rangesLimit(ranges: Uint8Array): boolean {
  for (let i = 0; i + 4 <= ranges.length; i += 4)
    if (ranges[i] !== 0 || ranges[i + 1] !== 0 || ranges[i + 2] !== 255 || ranges[i + 3] !== 255) return true
  return false
}
