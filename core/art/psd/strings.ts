import type { Cursor } from './cursor.ts'

/** UTF-16 text with its count of units before it. Trailing zeros are dropped. */
export function unicodeString(cursor: Cursor): string {
  const count = cursor.u32()
  const bytes = cursor.take(count * 2)
  let text = ''
  for (let i = 0; i < bytes.length; i += 2) text += String.fromCharCode((bytes[i]! << 8) | bytes[i + 1]!)
  return text.replace(/\0+$/, '')
}

/** Bytes with their count (one byte) before them; the whole is padded to a multiple of `pad`. */
export function pascalBytes(cursor: Cursor, pad: number): Uint8Array {
  const length = cursor.u8()
  const bytes = cursor.take(length)
  const rest = (pad - ((length + 1) % pad)) % pad
  cursor.skip(Math.min(rest, cursor.left))
  return bytes
}

/**
 * Text of an unstated 8-bit code page: ASCII as it is; else UTF-8 where it fits wholly; else Shift JIS where it fits
 * and most characters are Japanese (single accented letters fit it as well); else Mac Roman, the format's home.
 * `guessed` is true when it was not plain ASCII.
 */
export function localText(bytes: Uint8Array): { readonly text: string; readonly guessed: boolean } {
  if (bytes.every(b => b < 0x80))
    return { text: String.fromCharCode(...bytes).replace(/\0+$/, ''), guessed: false }
  const utf8 = decoded(bytes, 'utf-8')
  if (utf8 !== null) return { text: utf8, guessed: true }
  const japanese = decoded(bytes, 'shift_jis')
  if (japanese !== null && foreignShare(japanese) > 0.5) return { text: japanese, guessed: true }
  return { text: new TextDecoder('macintosh').decode(bytes), guessed: true }
}

function decoded(bytes: Uint8Array, label: string): string | null {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes)
  } catch {
    return null
  }
}

const foreignShare = (text: string): number => text.replace(/[\0-\x7f]/g, '').length / text.length
