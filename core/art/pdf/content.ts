import {
  PDFArray,
  PDFBool,
  type PDFContext,
  PDFHexString,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFObject,
} from '../../base/pdf.ts'

/** What stands before an operator of a content stream (ISO 32000-2, 7.8.2). Strings are bytes. */
export type Operand = number | boolean | null | Uint8Array | ContentName | ContentDict | readonly Operand[]

export interface ContentName {
  /** Its bytes as characters. */
  readonly name: string
}
export interface ContentDict {
  readonly dict: ReadonlyMap<string, Operand>
}

export const isName = (operand: Operand | undefined): operand is ContentName =>
  typeof operand === 'object' && operand !== null && 'name' in operand
export const isDict = (operand: Operand | undefined): operand is ContentDict =>
  typeof operand === 'object' && operand !== null && 'dict' in operand

/** An operand as an object of the file. */
export function asObject(context: PDFContext, operand: Operand): PDFObject {
  if (operand === null) return PDFNull
  if (typeof operand === 'number') return PDFNumber.of(operand)
  if (typeof operand === 'boolean') return operand ? PDFBool.True : PDFBool.False
  if (operand instanceof Uint8Array) return PDFHexString.fromBytes(operand)
  if ('name' in operand) return PDFName.of(operand.name)
  if ('dict' in operand) {
    const dict = context.obj({})
    for (const [key, value] of operand.dict) dict.set(PDFName.of(key), asObject(context, value))
    return dict
  }
  const array = PDFArray.withContext(context)
  for (const item of operand) array.push(asObject(context, item))
  return array
}

/** A byte of one of these kinds ends a word; letters of words and numbers are 0. */
const space = 1
const delimiter = 2
const kinds = new Uint8Array(256)
for (const byte of [0, 9, 10, 12, 13, 32]) kinds[byte] = space
for (const letter of '()<>[]{}/%') kinds[letter.charCodeAt(0)] = delimiter

const deepest = 64
const mostOperands = 10_000

/** Reads a content stream operator by operator. Bytes that are none of its syntax are passed over. */
export class ContentReader {
  operator = ''
  operands: Operand[] = []
  #at = 0

  constructor(readonly bytes: Uint8Array) {}

  /** Byte that is read next. */
  get at(): number {
    return this.#at
  }

  set at(byte: number) {
    this.#at = Math.min(byte, this.bytes.length)
  }

  /** Goes to the next operator; false at the end. */
  next(): boolean {
    this.operands = []
    for (;;) {
      this.#skipSpace()
      if (this.#at >= this.bytes.length) return false
      const operand = this.#operand(0)
      if (operand !== undefined) {
        if (this.operands.length < mostOperands) this.operands.push(operand)
        continue
      }
      if (this.#word === '') continue
      this.operator = this.#word
      return true
    }
  }

  /** The next operand, for the entries of an inline image; undefined where an operator comes, which is then `operator`. */
  entry(): Operand | undefined {
    this.#skipSpace()
    const operand = this.#operand(0)
    if (operand === undefined) this.operator = this.#word
    return operand
  }

  /** The word that was no operand; empty for a stray delimiter. */
  #word = ''

  #operand(depth: number): Operand | undefined {
    const { bytes } = this
    const byte = bytes[this.#at] ?? 0
    switch (byte) {
      case 0x2f:
        return this.#name()
      case 0x28:
        return this.#string()
      case 0x3c:
        return bytes[this.#at + 1] === 0x3c ? this.#dict(depth) : this.#hexString()
      case 0x5b:
        return this.#array(depth)
    }
    if (kinds[byte] === delimiter) {
      this.#at++
      this.#word = ''
      return undefined
    }
    const from = this.#at
    while (this.#at < bytes.length && kinds[bytes[this.#at]!] === 0) this.#at++
    const number = isNumeric(byte) ? this.#number(from) : null
    if (number !== null) return number
    const word = this.#latin(from, Math.min(this.#at, from + 64))
    if (word === 'true' || word === 'false') return word === 'true'
    if (word === 'null') return null
    this.#word = word
    return undefined
  }

  /** Digits with a sign and a point; what follows them that is no digit is passed over, as readers do. */
  #number(from: number): number | null {
    const { bytes } = this
    let at = from
    let sign = 1
    while (bytes[at] === 0x2b || bytes[at] === 0x2d) {
      if (bytes[at] === 0x2d) sign = -1
      at++
    }
    let value = 0
    let digits = 0
    for (let digit = digitAt(bytes, at); digit >= 0 && at < this.#at; digit = digitAt(bytes, ++at)) {
      value = value * 10 + digit
      digits++
    }
    if (bytes[at] === 0x2e && at < this.#at) {
      let unit = 1
      let fraction = 0
      for (let digit = digitAt(bytes, ++at); digit >= 0 && at < this.#at; digit = digitAt(bytes, ++at)) {
        digits++
        if (unit >= 1e15) continue
        unit *= 10
        fraction = fraction * 10 + digit
      }
      value += fraction / unit
    }
    if (digits === 0) return bytes[from] === 0x2e || bytes[from] === 0x2d ? 0 : null
    return Number.isFinite(value) ? sign * value : null
  }

  #name(): ContentName {
    const from = ++this.#at
    while (this.#at < this.bytes.length && kinds[this.bytes[this.#at]!] === 0) this.#at++
    const raw = this.#latin(from, Math.min(this.#at, from + 512))
    return {
      name: raw.replace(/#([\dA-Fa-f]{2})/g, (_, hex: string) =>
        String.fromCharCode(Number.parseInt(hex, 16)),
      ),
    }
  }

  #string(): Uint8Array {
    const { bytes } = this
    const out: number[] = []
    let depth = 1
    for (this.#at++; this.#at < bytes.length; this.#at++) {
      const byte = bytes[this.#at]!
      if (byte === 0x5c) {
        this.#escape(out)
        continue
      }
      if (byte === 0x28) depth++
      if (byte === 0x29 && --depth === 0) {
        this.#at++
        break
      }
      // A line end counts as one byte, whichever it is.
      if (byte === 13 && bytes[this.#at + 1] === 10) continue
      out.push(byte === 13 ? 10 : byte)
    }
    return Uint8Array.from(out)
  }

  /** What follows a backslash; ends at its last byte. */
  #escape(out: number[]): void {
    const { bytes } = this
    const byte = bytes[++this.#at] ?? 0
    if (byte >= 0x30 && byte <= 0x37) {
      let value = 0
      let count = 0
      for (; count < 3; count++) {
        const digit = (bytes[this.#at + count] ?? 0) - 0x30
        if (digit < 0 || digit > 7) break
        value = value * 8 + digit
      }
      this.#at += count - 1
      out.push(value & 255)
      return
    }
    if (byte === 10) return
    if (byte === 13) {
      if (bytes[this.#at + 1] === 10) this.#at++
      return
    }
    out.push(escapes.get(byte) ?? byte)
  }

  #hexString(): Uint8Array {
    const out: number[] = []
    let half = -1
    for (this.#at++; this.#at < this.bytes.length; ) {
      const byte = this.bytes[this.#at++]!
      if (byte === 0x3e) break
      const digit = hexDigit(byte)
      if (digit < 0) continue
      if (half < 0) half = digit
      else {
        out.push(half * 16 + digit)
        half = -1
      }
    }
    if (half >= 0) out.push(half * 16)
    return Uint8Array.from(out)
  }

  #array(depth: number): readonly Operand[] {
    const out: Operand[] = []
    this.#at++
    for (;;) {
      this.#skipSpace()
      const byte = this.bytes[this.#at]
      if (byte === undefined) return out
      if (byte === 0x5d) {
        this.#at++
        return out
      }
      if (depth >= deepest) {
        this.#at++
        continue
      }
      const item = this.#operand(depth + 1)
      if (item !== undefined) out.push(item)
    }
  }

  #dict(depth: number): ContentDict {
    const dict = new Map<string, Operand>()
    this.#at += 2
    for (;;) {
      this.#skipSpace()
      const byte = this.bytes[this.#at]
      if (byte === undefined) return { dict }
      if (byte === 0x3e) {
        this.#at += this.bytes[this.#at + 1] === 0x3e ? 2 : 1
        return { dict }
      }
      if (depth >= deepest) {
        this.#at++
        continue
      }
      const key = this.#operand(depth + 1)
      if (!isName(key)) continue
      this.#skipSpace()
      if (this.bytes[this.#at] === 0x3e) continue
      const value = this.#operand(depth + 1)
      if (value !== undefined) dict.set(key.name, value)
    }
  }

  #skipSpace(): void {
    const { bytes } = this
    for (; this.#at < bytes.length; this.#at++) {
      const byte = bytes[this.#at]!
      if (byte === 0x25)
        while (this.#at < bytes.length && bytes[this.#at] !== 10 && bytes[this.#at] !== 13) this.#at++
      else if (kinds[byte] !== space) return
    }
  }

  #latin(from: number, to: number): string {
    let text = ''
    for (let at = from; at < to; at++) text += String.fromCharCode(this.bytes[at]!)
    return text
  }
}

const escapes = new Map([
  [0x6e, 10],
  [0x72, 13],
  [0x74, 9],
  [0x62, 8],
  [0x66, 12],
])

const isNumeric = (byte: number): boolean =>
  (byte >= 0x30 && byte <= 0x39) || byte === 0x2b || byte === 0x2d || byte === 0x2e

function digitAt(bytes: Uint8Array, at: number): number {
  const digit = (bytes[at] ?? 0) - 0x30
  return digit >= 0 && digit <= 9 ? digit : -1
}

function hexDigit(byte: number): number {
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30
  const letter = byte | 0x20
  return letter >= 0x61 && letter <= 0x66 ? letter - 0x57 : -1
}
