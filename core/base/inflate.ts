import { Unzlib, unzlibSync, Zlib, zlibSync } from 'fflate'

/** Packs bytes as zlib data (RFC 1950), always to the same bytes. */
export function deflate(bytes: Uint8Array, level: 1 | 6 | 9 = 6): Uint8Array<ArrayBuffer> {
  return zlibSync(bytes, { level }) as Uint8Array<ArrayBuffer>
}

/** Packs bytes as they come into one piece of zlib data (RFC 1950), always to the same bytes. */
export class Deflater {
  readonly #parts: Uint8Array[] = []
  readonly #packer = new Zlib({ level: 6 }, part => {
    if (part.length > 0) this.#parts.push(part)
  })

  push(bytes: Uint8Array): void {
    this.#packer.push(bytes, false)
  }

  /** All that was packed. Nothing may come after. */
  finish(): Uint8Array<ArrayBuffer> {
    this.#packer.push(new Uint8Array(0), true)
    const out = new Uint8Array(this.#parts.reduce((sum, part) => sum + part.length, 0))
    let at = 0
    for (const part of this.#parts) {
      out.set(part, at)
      at += part.length
    }
    return out
  }
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

/** Undoes {@link deflate}, `size` bytes unpacked, at once. Throws Error where the data is not zlib data. */
export function inflated(packed: Uint8Array, size: number): Uint8Array<ArrayBuffer> {
  return unzlibSync(packed, { out: new Uint8Array(size) }) as Uint8Array<ArrayBuffer>
}

export interface Inflated {
  readonly bytes: Uint8Array
  /** `whole`: to its end. `cut`: it ends early or is damaged, so `bytes` are what came before. `over`: the limit was met. */
  readonly end: 'whole' | 'cut' | 'over'
}

/** Undoes zlib data (RFC 1950) of unknown size, at most `limit` bytes of it. Never throws. */
export function inflateAtMost(packed: Uint8Array, limit: number): Inflated {
  const parts: Uint8Array[] = []
  let size = 0
  let ended = false
  const inflater = new Unzlib((part, last) => {
    if (part.length > 0) parts.push(part)
    size += part.length
    ended ||= last
  })
  let end: Inflated['end'] = 'whole'
  try {
    for (let at = 0; at < packed.length && !ended && size <= limit; at += inflateStep)
      inflater.push(packed.subarray(at, at + inflateStep), at + inflateStep >= packed.length)
    if (packed.length === 0) end = 'cut'
  } catch {
    end = 'cut'
  }
  if (size > limit) end = 'over'
  const bytes = new Uint8Array(Math.min(size, limit))
  let at = 0
  for (const part of parts) {
    const wanted = part.subarray(0, bytes.length - at)
    bytes.set(wanted, at)
    at += wanted.length
  }
  return { bytes, end }
}

/** Packed bytes at a time; each can unpack to a thousand times as much, which is then held beside the limit. */
const inflateStep = 8192
