/**
 * Bytes as printable ASCII that is plain text wherever it stands in HTML: no quote, `<`, `>`, `&`, `-` or backslash. Four
 * bytes become five digits of base 85, most significant first; of a last group of n bytes n + 1 digits are kept, as in
 * Ascii85. The letters are our own choice. A quarter longer than the bytes, where base 64 is a third.
 */
const letters = Array.from({ length: 94 }, (_, i) => String.fromCharCode(33 + i)).filter(
  letter => !'"&\'<>\\`-!'.includes(letter),
)
const codes = Uint8Array.from(letters, letter => letter.charCodeAt(0))
const digits = new Uint8Array(128).fill(255)
for (const [digit, code] of codes.entries()) digits[code] = digit

/** Digits that are made into a text at once. */
const chunk = 5 * 4096

export function bytesToText(bytes: Uint8Array): string {
  const out = new Uint8Array(textLength(bytes.length))
  for (let from = 0, to = 0; from < bytes.length; from += 4, to += 5) {
    const count = Math.min(4, bytes.length - from)
    let value = 0
    for (let i = 0; i < 4; i++) value = value * 256 + (i < count ? bytes[from + i]! : 0)
    for (let i = 4; i >= 0; i--) {
      if (i <= count) out[to + i] = codes[value % 85]!
      value = Math.floor(value / 85)
    }
  }
  const parts: string[] = []
  for (let from = 0; from < out.length; from += chunk)
    parts.push(String.fromCharCode(...out.subarray(from, from + chunk)))
  return parts.join('')
}

/** Letters of a text of so many bytes. */
export const textLength = (bytes: number): number => bytes + Math.ceil(bytes / 4)

/** Undoes {@link bytesToText}. Throws RangeError where a letter is none, or the text ends inside a byte. */
export function textToBytes(text: string): Uint8Array<ArrayBuffer> {
  const rest = text.length % 5
  if (rest === 1) throw new RangeError(`letter ${text.length}: the text ends early`)
  const out = new Uint8Array(Math.floor(text.length / 5) * 4 + Math.max(0, rest - 1))
  for (let from = 0, to = 0; from < text.length; from += 5, to += 4) {
    let value = 0
    for (let i = 0; i < 5; i++) {
      // Digits that were left out were the largest there could be: rounding then goes the right way.
      const code = from + i < text.length ? text.charCodeAt(from + i) : -1
      const digit = code === -1 ? 84 : code < 128 ? digits[code]! : 255
      if (digit === 255) throw new RangeError(`letter ${from + i + 1}: is none of the 85`)
      value = value * 85 + digit
    }
    for (let i = 3; i >= 0; i--) {
      if (to + i < out.length) out[to + i] = value % 256
      value = Math.floor(value / 256)
    }
  }
  return out
}
