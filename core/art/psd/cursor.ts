import { damaged, type Place } from '../place.ts'

/** Reads big-endian numbers from a section held in memory; never past its end. */
export class Cursor {
  private pos = 0
  private readonly view: DataView

  /**
   * @param bytes  the section
   * @param start  offset of its first byte in the file, for messages
   */
  constructor(
    private readonly bytes: Uint8Array,
    private readonly start: number,
    readonly place: Place,
  ) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  }

  /** Offset in the file of the byte that is read next. */
  get at(): number {
    return this.start + this.pos
  }

  /** Bytes up to the end of the section. */
  get left(): number {
    return this.bytes.length - this.pos
  }

  u8(): number {
    return this.view.getUint8(this.step(1))
  }
  u16(): number {
    return this.view.getUint16(this.step(2))
  }
  i16(): number {
    return this.view.getInt16(this.step(2))
  }
  u32(): number {
    return this.view.getUint32(this.step(4))
  }
  i32(): number {
    return this.view.getInt32(this.step(4))
  }
  f64(): number {
    return this.view.getFloat64(this.step(8))
  }

  /** A length: 32 bits, or 64 where `wide`. Lengths above 2^53 are refused: no file is that long. */
  length(wide: boolean): number {
    if (!wide) return this.u32()
    const at = this.at
    const value = this.u32() * 2 ** 32 + this.u32()
    if (value > Number.MAX_SAFE_INTEGER)
      throw damaged(this.place, at, `a length of ${value} bytes is not possible`)
    return value
  }

  /** Four characters. */
  tag(): string {
    const at = this.step(4)
    return String.fromCharCode(...this.bytes.subarray(at, at + 4))
  }

  /** The four characters that `tag` would give, or '' when fewer are left. */
  peekTag(skip = 0): string {
    if (this.left < skip + 4) return ''
    return String.fromCharCode(...this.bytes.subarray(this.pos + skip, this.pos + skip + 4))
  }

  /** The byte that `u8` would give; 0 at the end. */
  peekByte(): number {
    return this.bytes[this.pos] ?? 0
  }

  /** The number that `u32` would give; 0 when fewer than four bytes are left. */
  peekU32(): number {
    return this.left < 4 ? 0 : this.view.getUint32(this.pos)
  }

  /** Whether the bytes that are read next are these. */
  startsWith(bytes: Uint8Array): boolean {
    return this.left >= bytes.length && bytes.every((b, i) => this.bytes[this.pos + i] === b)
  }

  take(length: number): Uint8Array {
    const at = this.step(length)
    return this.bytes.subarray(at, at + length)
  }

  /** The next `length` bytes as a section of their own. */
  section(length: number, place: Place = this.place): Cursor {
    const start = this.at
    return new Cursor(this.take(length), start, place)
  }

  /** The same section from its beginning. */
  fresh(): Cursor {
    return new Cursor(this.bytes, this.start, this.place)
  }

  skip(length: number): void {
    this.step(length)
  }

  private step(length: number): number {
    if (length > this.left)
      throw damaged(
        this.place,
        this.at,
        `expected ${length} more bytes in this section, got ${this.left}: the file is cut short or damaged`,
      )
    const at = this.pos
    this.pos += length
    return at
  }
}
