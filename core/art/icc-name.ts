import type { Art } from './layer.ts'
import { Cursor } from './psd/cursor.ts'
import { unicodeString } from './psd/strings.ts'

/** A profile with the name that it gives itself; null where the bytes are too few to be one. */
export function namedProfile(bytes: Uint8Array): Art['profile'] {
  return bytes.length < 132 ? null : { name: iccName(bytes) ?? 'unnamed profile', bytes }
}

/** The description tag of an ICC profile (ICC.1:2022, 9.2.41; v2 text description ICC.1:2001-04, 6.5.17). */
function iccName(bytes: Uint8Array): string | null {
  const all = new Cursor(bytes, 0, { file: 'profile', part: null })
  all.skip(128)
  const count = Math.min(all.u32(), 100)
  for (let i = 0; i < count && all.left >= 12; i++) {
    const tag = all.tag()
    const offset = all.u32()
    const size = all.u32()
    if (tag !== 'desc' || offset + size > bytes.length || size < 28) continue
    const data = new Cursor(bytes.subarray(offset, offset + size), offset, all.place)
    const type = data.tag()
    data.skip(4)
    if (type === 'desc') {
      const length = data.u32()
      if (length > data.left) return null
      return String.fromCharCode(...data.take(length)).replace(/\0.*$/s, '')
    }
    if (type !== 'mluc') return null
    data.skip(12)
    const length = data.u32()
    const at = data.u32()
    if (at + length > size || length % 2) return null
    const counted = new Uint8Array(4 + length)
    new DataView(counted.buffer).setUint32(0, length / 2)
    counted.set(bytes.subarray(offset + at, offset + at + length), 4)
    return unicodeString(new Cursor(counted, 0, all.place))
  }
  return null
}
