import { Unzlib, zlibSync } from 'fflate'

/** Packs bytes as zlib data (RFC 1950), always to the same bytes. */
export function deflate(bytes: Uint8Array, level: 1 | 6 | 9 = 6): Uint8Array<ArrayBuffer> {
  return zlibSync(bytes, { level }) as Uint8Array<ArrayBuffer>
}

/**
 * Undoes zlib data (RFC 1950) into `out`, chunk by chunk, so that no more than a chunk is held beside it.
 * Output before `skip` bytes is passed over; once `out` is full the rest is not read.
 * @param pull  gives the packed bytes in order; null when there are no more
 * @returns bytes written; less than `out.length` when the data ends early
 * @throws Error when the data is not zlib data
 */
export async function inflateInto(
  pull: () => Promise<Uint8Array | null>,
  out: Uint8Array,
  skip = 0,
): Promise<number> {
  let seen = 0
  let written = 0
  const inflater = new Unzlib(part => {
    const from = Math.max(0, skip - seen)
    seen += part.length
    if (from >= part.length || written === out.length) return
    const wanted = part.subarray(from, Math.min(part.length, from + out.length - written))
    out.set(wanted, written)
    written += wanted.length
  })
  while (written < out.length) {
    const packed = await pull()
    if (packed === null) {
      inflater.push(new Uint8Array(0), true)
      break
    }
    inflater.push(packed, false)
  }
  return written
}
