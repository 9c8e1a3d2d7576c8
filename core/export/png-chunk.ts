/** One chunk of a PNG: length, type, data and check sum. Source: PNG third edition, 5.3. */
export function pngChunk(name: string, body: ArrayLike<number>): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(12 + body.length)
  const view = new DataView(out.buffer)
  view.setUint32(0, body.length)
  for (let i = 0; i < 4; i++) out[4 + i] = name.charCodeAt(i)
  out.set(body, 8)
  view.setUint32(8 + body.length, crc32(out.subarray(4, 8 + body.length)))
  return out
}

/** Signature of a PNG and its header chunk; what says colour or movement comes after them. */
export const pngHeaderEnd = 8 + 25

export interface PngPart {
  readonly name: string
  readonly body: Uint8Array
}

/** The chunks of a whole PNG in their order. The bytes are those of the file itself. */
export function pngChunks(file: Uint8Array): readonly PngPart[] {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength)
  const parts: PngPart[] = []
  for (let at = 8; at + 12 <= file.length; ) {
    const length = view.getUint32(at)
    const name = String.fromCharCode(...file.subarray(at + 4, at + 8))
    parts.push({ name, body: file.subarray(at + 8, at + 8 + length) })
    at += 12 + length
  }
  return parts
}

/** CRC-32 of PNG third edition, annex D. */
function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (let i = 0; i < bytes.length; i++) c = (c >>> 8) ^ table[(c ^ bytes[i]!) & 0xff]!
  return (c ^ 0xffffffff) >>> 0
}

const table = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1
  return c
})
