/**
 * Binary arithmetic coding with adaptive probabilities: a yes or no that is foreseen costs next to nothing. Range coding with
 * carry, 24 bits, bytes out. Source: Martin (1979), Range encoding: an algorithm for removing redundancy from a digitised
 * message; Witten, Neal & Cleary (1987), Arithmetic coding for data compression, Comm. ACM 30, 520–540.
 */
export interface BitCoder {
  /**
   * One decision. Writing, `bit` is what is written; reading, it is not looked at.
   * @param chances of a no, {@link even} ones at first; the one at `at` is used and learns
   * @returns the bit, 0 or 1
   */
  bit(chances: Uint16Array, at: number, bit: number): number
}

/** Chances of a no are 15 bits; one half at first. */
const scale = 32768
export const even = (count: number): Uint16Array => new Uint16Array(count).fill(scale / 2)

/** A chance moves by 1/32 of the way at each decision, and keeps this far from certainty. */
const rate = 5
const least = 32
const afterNo = (chance: number): number => chance + ((scale - least - chance) >> rate)
const afterYes = (chance: number): number => chance - ((chance - least) >> rate)

const whole = 2 ** 24
const narrow = 2 ** 16

export class BitWriter implements BitCoder {
  readonly #out: number[] = []
  #low = 0
  #range = whole - 1
  /** The last byte, which a carry may still raise, and how many bytes of 255 wait behind it. */
  #last = -1
  #full = 0

  bit(chances: Uint16Array, at: number, bit: number): number {
    const chance = chances[at]!
    const bound = (this.#range * chance * (1 / scale)) | 0
    if (bit === 0) {
      this.#range = bound
      chances[at] = afterNo(chance)
    } else {
      this.#low += bound
      this.#range -= bound
      chances[at] = afterYes(chance)
    }
    while (this.#range < narrow) {
      this.#range *= 256
      this.#shift()
    }
    return bit
  }

  /** All bytes. Nothing may be written after. */
  finish(): Uint8Array<ArrayBuffer> {
    for (let i = 0; i < 4; i++) this.#shift()
    return Uint8Array.from(this.#out)
  }

  #shift(): void {
    const carry = this.#low >= whole ? 1 : 0
    const top = (this.#low >>> 16) & 255
    if (carry === 0 && top === 255) this.#full++
    else {
      if (this.#last >= 0) this.#out.push(this.#last + carry)
      for (; this.#full > 0; this.#full--) this.#out.push((255 + carry) & 255)
      this.#last = top
    }
    this.#low = (this.#low & (narrow - 1)) << 8
  }
}

export class BitReader implements BitCoder {
  readonly #bytes: Uint8Array
  #at = 3
  #range = whole - 1
  #code: number

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes
    this.#code = ((bytes[0] ?? 0) << 16) | ((bytes[1] ?? 0) << 8) | (bytes[2] ?? 0)
  }

  /** Whether as many bytes were read as there are: what {@link BitWriter} wrote ends so. */
  get isAtEnd(): boolean {
    return this.#at === this.#bytes.length
  }

  bit(chances: Uint16Array, at: number): number {
    const chance = chances[at]!
    const bound = (this.#range * chance * (1 / scale)) | 0
    let bit = 0
    if (this.#code < bound) {
      this.#range = bound
      chances[at] = afterNo(chance)
    } else {
      this.#code -= bound
      this.#range -= bound
      chances[at] = afterYes(chance)
      bit = 1
    }
    while (this.#range < narrow) {
      this.#range *= 256
      // Past its end a damaged text reads as zeros; `isAtEnd` then says no.
      this.#code = (this.#code << 8) | (this.#at < this.#bytes.length ? this.#bytes[this.#at]! : 0)
      this.#at++
    }
    return bit
  }
}
