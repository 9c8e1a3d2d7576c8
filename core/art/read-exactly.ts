import { BadInput } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import { damaged, type Place } from './place.ts'

/** Reads from the source; a read that fails (a file that vanished or shrank) becomes a clear error. */
export async function readExactly(
  source: ByteSource,
  offset: number,
  length: number,
  place: Place,
): Promise<Uint8Array> {
  if (length < 0 || offset + length > source.size)
    throw damaged(
      place,
      offset,
      `expected ${length} bytes here, but the file ends at byte ${source.size}: it is cut short or damaged`,
      'cut-short',
    )
  if (length === 0) return new Uint8Array(0)
  let bytes: Uint8Array
  try {
    bytes = await source.read(offset, length)
  } catch (cause) {
    if (cause instanceof BadInput) throw cause
    throw damaged(
      place,
      offset,
      `${length} bytes could not be read (${cause instanceof Error ? cause.message : String(cause)})`,
      'unreadable',
      'Check that the file is still there and may be read, then open it again.',
    )
  }
  if (bytes.length !== length)
    throw damaged(place, offset, `expected ${length} bytes, got ${bytes.length}`, 'unreadable')
  return bytes
}
