import type { ByteSource } from '../../base/source.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import { boxHeight, boxWidth } from '../box.ts'
import { damaged, type Place } from '../place.ts'
import { userMask } from './mask.ts'
import { compressions, type PackedPlane } from './planes.ts'
import type { LayerRecord, RecordChannel } from './records.ts'
import { rowBytes } from './samples.ts'
import { compressionCode } from './sections.ts'

/** Where the planes of one layer lie. */
export interface LayerPlanes {
  /** By channel number: 0.. process, -1 alpha. */
  readonly colors: ReadonlyMap<number, PackedPlane>
  readonly mask: PackedPlane | null
  readonly vectorMask: PackedPlane | null
}

/**
 * Reads the compression code of every channel, and refuses codes that mean nothing and raw samples that do not fit
 * their box, so that a damaged layer is known when the file is opened and not when it is drawn.
 */
export async function locatePlanes(
  source: ByteSource,
  record: LayerRecord,
  depth: number,
  large: boolean,
  task?: Task,
): Promise<LayerPlanes> {
  const colors = new Map<number, PackedPlane>()
  let mask: PackedPlane | null = null
  let vectorMask: PackedPlane | null = null
  const user = userMask(record)
  for (const channel of record.channels) {
    checkCancelled(task)
    const box =
      channel.id === -2 ? record.mask?.main.box : channel.id === -3 ? record.mask?.real?.box : record.box
    if (box === undefined || channel.length < 2 || boxWidth(box) === 0 || boxHeight(box) === 0) continue
    const packed = await locate(source, record, channel, box, depth, large)
    if (channel.id >= -1) colors.set(channel.id, packed)
    else if (channel.id === user?.channel) mask = packed
    else if (channel.id === -2) vectorMask = packed
  }
  return { colors, mask, vectorMask }
}

async function locate(
  source: ByteSource,
  record: LayerRecord,
  channel: RecordChannel,
  box: PackedPlane['box'],
  depth: number,
  large: boolean,
): Promise<PackedPlane> {
  const place: Place = { file: source.name, part: `${record.place.part}, channel ${channel.id}` }
  const code = await compressionCode(source, channel.offset, place)
  const compression = compressions[code]
  if (compression === undefined)
    throw damaged(place, channel.offset, `expected compression 0 to 3, got ${code}`, 'compression')
  const expected = rowBytes(boxWidth(box), depth) * boxHeight(box)
  if (compression === 'raw' && channel.length - 2 < expected)
    throw damaged(place, channel.offset, `expected ${expected} bytes of samples, got ${channel.length - 2}`)
  const offset = channel.offset + 2
  return { place, compression, box, depth, offset, end: channel.offset + channel.length, large }
}
