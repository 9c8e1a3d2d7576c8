const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/'
const codes = Uint8Array.from(letters, letter => letter.charCodeAt(0))
const pad = 61

/** Letters that are made into a text at once. */
const chunk = 4 * 4096

/** Bytes as base 64. Source: RFC 4648, section 4. */
export function toBase64(bytes: Uint8Array): string {
  const out = new Uint8Array(4 * Math.ceil(bytes.length / 3))
  for (let from = 0, to = 0; from < bytes.length; from += 3, to += 4) {
    const count = bytes.length - from
    const word = (bytes[from]! << 16) | ((bytes[from + 1] ?? 0) << 8) | (bytes[from + 2] ?? 0)
    for (let i = 0; i < 4; i++) out[to + i] = i <= count ? codes[(word >>> (18 - 6 * i)) & 63]! : pad
  }
  const parts: string[] = []
  for (let from = 0; from < out.length; from += chunk)
    parts.push(String.fromCharCode(...out.subarray(from, from + chunk)))
  return parts.join('')
}

const values = new Uint8Array(256).fill(255)
for (const [value, code] of codes.entries()) values[code] = value

/** Bytes of a base 64 text, with or without its padding. Throws Error at any other letter. */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  const length = text.replace(/=+$/, '').length
  const out = new Uint8Array(Math.floor((length * 3) / 4))
  let held = 0
  for (let i = 0, at = 0; i < length; i++) {
    const code = text.charCodeAt(i)
    const value = code < 256 ? values[code]! : 255
    if (value === 255) throw new Error(`letter ${i + 1} is none of base 64`)
    held = ((held << 6) | value) & 0xffffff
    if (i % 4 !== 0 && at < out.length) out[at++] = (held >> (6 - 2 * (i % 4))) & 255
  }
  return out
}
