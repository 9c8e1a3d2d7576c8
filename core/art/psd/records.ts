import type { Finding } from '../../base/finding.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { Box } from '../layer.ts'
import { damaged, type Place, saveAgain } from '../place.ts'
import { readBlocks } from './blocks.ts'
import type { Cursor } from './cursor.ts'
import { type MaskData, readBox, readMask } from './mask.ts'
import type { Stream } from './stream.ts'
import { localText, pascalBytes, unicodeString } from './strings.ts'

/** One layer record as the file holds it: numbers read, nothing judged. */
export interface LayerRecord {
  /** Position in the file, 0 = bottom; end markers of groups are counted. */
  readonly index: number
  readonly place: Place
  readonly name: string
  readonly box: Box
  readonly channels: readonly RecordChannel[]
  /** Four characters. */
  readonly blendKey: string
  readonly opacity: number
  readonly clipping: number
  readonly hidden: boolean
  readonly mask: MaskData | null
  readonly blendRanges: Uint8Array
  /** A fresh cursor over a block of further data, or null. */
  readonly block: (key: string) => Cursor | null
  readonly keys: ReadonlySet<string>
}

export interface RecordChannel {
  readonly id: number
  /** Where its compression code lies. */
  readonly offset: number
  /** Bytes, code included. */
  readonly length: number
}

export interface LayerRecords {
  readonly records: readonly LayerRecord[]
  /** The first extra plane of the document is its transparency (negative count). */
  readonly transparency: boolean
}

/** Reads layer records and where their channels lie, from a stream that stands at the layer count. */
export async function readRecords(
  stream: Stream,
  large: boolean,
  findings: Finding[],
  task?: Task,
): Promise<LayerRecords> {
  const signed = (await stream.section(2)).i16()
  const count = Math.abs(signed)
  const heads: { record: Omit<LayerRecord, 'channels'>; sizes: { id: number; length: number }[] }[] = []
  for (let index = 0; index < count; index++) {
    checkCancelled(task)
    heads.push(await readRecord(stream, index, large, findings))
    task?.progress?.(index / count, 'reading layers')
  }
  let offset = stream.at
  const records: LayerRecord[] = []
  for (const { record, sizes } of heads) {
    const channels: RecordChannel[] = []
    for (const { id, length } of sizes) {
      if (offset + length > stream.end)
        throw damaged(
          record.place,
          offset,
          `channel ${id} needs ${length} bytes, but its section ends at byte ${stream.end}: the file is cut short or damaged`,
          'cut-short',
        )
      channels.push({ id, offset, length })
      offset += length
    }
    records.push({ ...record, channels })
  }
  return { records, transparency: signed < 0 }
}

async function readRecord(stream: Stream, index: number, large: boolean, findings: Finding[]) {
  const unnamed: Place = { file: stream.place.file, part: `layer ${index + 1}` }
  const head = await stream.section(18, unnamed)
  const box = readBox(head)
  const channelCount = head.u16()
  const table = await stream.section(channelCount * (large ? 10 : 6), unnamed)
  const sizes = Array.from({ length: channelCount }, () => ({ id: table.i16(), length: table.length(large) }))
  const rest = await stream.section(16, unnamed)
  const at = rest.at
  const signature = rest.tag()
  if (signature !== '8BIM' && signature !== '8B64')
    throw damaged(
      unnamed,
      at,
      'expected the signature 8BIM of a blend mode, got something else',
      'layer-record',
    )
  const blendKey = rest.tag()
  const opacity = rest.u8() / 255
  const clipping = rest.u8()
  const flags = rest.u8()
  rest.skip(1)
  const extra = await stream.section(rest.u32(), unnamed)
  const body = readBody(extra, unnamed, large, findings)
  const place: Place = { file: unnamed.file, part: `layer ${index + 1} "${body.name}"` }
  const record = { index, place, box, blendKey, opacity, clipping, hidden: (flags & 2) !== 0, ...body }
  return { record, sizes }
}

function readBody(extra: Cursor, place: Place, large: boolean, findings: Finding[]) {
  const mask = extra.left >= 4 ? readMask(extra.section(extra.u32())) : null
  const blendRanges = extra.left >= 4 ? extra.take(extra.u32()).slice() : new Uint8Array(0)
  const short = extra.left >= 1 ? localText(pascalBytes(extra, 4)) : { text: '', guessed: false }
  const at = extra.at
  const { blocks, rest } = readBlocks(extra, large)
  const luni = blocks.get('luni')
  const name = (luni && unicodeOrNull(luni)) ?? short.text
  const where = `${place.part} "${name}"`
  if (rest > 0)
    findings.push({
      severity: 'warning',
      code: 'layer-data-damaged',
      where,
      message: `${rest} bytes of the layer's further data, from byte ${at} on, could not be read`,
      fix: saveAgain,
    })
  if (luni === undefined && short.guessed)
    findings.push({
      severity: 'note',
      code: 'name-encoding-guessed',
      where,
      message: 'the layer name has no Unicode form; its characters are a guess',
      fix: 'Rename the layer if its name looks wrong.',
    })
  return {
    name,
    mask,
    blendRanges,
    block: (key: string) => blocks.get(key)?.fresh() ?? null,
    keys: new Set(blocks.keys()),
  }
}

function unicodeOrNull(block: Cursor): string | null {
  const cursor = block.fresh()
  return cursor.left < 4 || cursor.left < 4 + 2 * cursor.peekU32() ? null : unicodeString(cursor)
}
