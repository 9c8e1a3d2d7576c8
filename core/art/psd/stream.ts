import type { ByteSource } from '../../base/source.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'
import { Cursor } from './cursor.ts'

const chunk = 1 << 16

/** Walks forward through a part of a source that is too long to be held; sections of it are held one at a time. */
export class Stream {
  private held: Uint8Array = new Uint8Array(0)
  private heldAt: number

  /**
   * @param at    first byte
   * @param end   first byte that does not belong to the part, at most the size of the source
   * @param most  longest section that may be held at once, bytes
   */
  constructor(
    private readonly source: ByteSource,
    public at: number,
    readonly end: number,
    private readonly most: number,
    readonly place: Place,
  ) {
    this.heldAt = at
  }

  get left(): number {
    return this.end - this.at
  }

  /** The next `length` bytes. */
  async section(length: number, place: Place = this.place): Promise<Cursor> {
    if (length > this.left)
      throw damaged(
        place,
        this.at,
        `expected ${length} more bytes in this section, got ${this.left}: the file is cut short or damaged`,
      )
    if (length > this.most)
      throw damaged(
        place,
        this.at,
        `a section of ${length} bytes is above the memory budget`,
        'too-large',
        'Raise the memory budget, or save the art with less in it.',
      )
    const from = this.at - this.heldAt
    if (from < 0 || from + length > this.held.length) {
      this.held = await readExactly(this.source, this.at, Math.max(length, Math.min(chunk, this.left)), place)
      this.heldAt = this.at
    }
    const start = this.at - this.heldAt
    const cursor = new Cursor(this.held.subarray(start, start + length), this.at, place)
    this.at += length
    return cursor
  }

  /** Another stream over a part of this one. */
  within(at: number, end: number): Stream {
    return new Stream(this.source, at, end, this.most, this.place)
  }

  skip(length: number): void {
    if (length > this.left)
      throw damaged(this.place, this.at, `expected ${length} more bytes in this section, got ${this.left}`)
    this.at += length
  }
}
