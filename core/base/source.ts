/** Bytes that can be read at any place: a file handle, a Blob or a buffer. Files above 2 GB are read by seeking. */
export interface ByteSource {
  /** File name without folder, for messages. */
  readonly name: string
  /** Length, bytes. */
  readonly size: number
  /** Reads exactly `length` bytes at `offset`; rejects when the range is not inside the source. */
  read(offset: number, length: number): Promise<Uint8Array>
}

/** A source over bytes already in memory. */
export function memorySource(name: string, bytes: Uint8Array): ByteSource {
  return {
    name,
    size: bytes.length,
    read: async (offset, length) => {
      if (offset < 0 || length < 0 || offset + length > bytes.length)
        throw new RangeError(
          `${name}: expected bytes ${offset}..${offset + length}, got ${bytes.length} bytes`,
        )
      return bytes.subarray(offset, offset + length)
    },
  }
}
