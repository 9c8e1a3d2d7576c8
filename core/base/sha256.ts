/**
 * SHA-256, as bytes come. Shells hash large files by the system's own code; this one is for what has to be known at
 * once, wherever the page runs: a proof opened from a disk has no such code to call without waiting.
 * Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5 and 6.2.
 */
export class Sha256 {
  readonly #state = new Uint32Array(start)
  readonly #block = new Uint8Array(64)
  readonly #words = new Uint32Array(64)
  #filled = 0
  #total = 0

  update(bytes: Uint8Array): this {
    this.#total += bytes.length
    let at = 0
    if (this.#filled > 0) {
      at = Math.min(64 - this.#filled, bytes.length)
      this.#block.set(bytes.subarray(0, at), this.#filled)
      this.#filled += at
      if (this.#filled < 64) return this
      this.#compress(this.#block, 0)
      this.#filled = 0
    }
    for (; at + 64 <= bytes.length; at += 64) this.#compress(bytes, at)
    this.#block.set(bytes.subarray(at))
    this.#filled = bytes.length - at
    return this
  }

  /** The hash of all that came, 64 lower-case hexadecimal digits. Nothing may come after. */
  hex(): string {
    const bits = 8 * this.#total
    const end = new Uint8Array(this.#filled < 56 ? 64 - this.#filled : 128 - this.#filled)
    end[0] = 0x80
    const length = new DataView(end.buffer, end.length - 8)
    length.setUint32(0, Math.floor(bits / 2 ** 32))
    length.setUint32(4, bits >>> 0)
    this.update(end)
    return [...this.#state].map(word => word.toString(16).padStart(8, '0')).join('')
  }

  /** Section 6.2.2; letters as there. */
  #compress(bytes: Uint8Array, at: number): void {
    const W = this.#words
    for (let t = 0; t < 16; t++) {
      const i = at + 4 * t
      W[t] = (bytes[i]! << 24) | (bytes[i + 1]! << 16) | (bytes[i + 2]! << 8) | bytes[i + 3]!
    }
    for (let t = 16; t < 64; t++) {
      const x = W[t - 15]!
      const y = W[t - 2]!
      const σ0 = turned(x, 7) ^ turned(x, 18) ^ (x >>> 3)
      const σ1 = turned(y, 17) ^ turned(y, 19) ^ (y >>> 10)
      W[t] = σ1 + W[t - 7]! + σ0 + W[t - 16]!
    }
    const H = this.#state
    let [a, b, c, d, e, f, g, h] = H as unknown as Eight
    for (let t = 0; t < 64; t++) {
      const Σ1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)
      const T1 = (h + Σ1 + ((e & f) ^ (~e & g)) + K[t]! + W[t]!) | 0
      const Σ0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)
      const T2 = (Σ0 + ((a & b) ^ (a & c) ^ (b & c))) | 0
      h = g
      g = f
      f = e
      e = (d + T1) | 0
      d = c
      c = b
      b = a
      a = (T1 + T2) | 0
    }
    const after: Eight = [a, b, c, d, e, f, g, h]
    for (let i = 0; i < 8; i++) H[i] = H[i]! + after[i]!
  }
}

/** SHA-256 of bytes, or of a text as UTF-8; 64 lower-case hexadecimal digits. */
export function sha256Hex(content: Uint8Array | string): string {
  return new Sha256().update(typeof content === 'string' ? new TextEncoder().encode(content) : content).hex()
}

type Eight = [number, number, number, number, number, number, number, number]

const turned = (word: number, by: number): number => (word >>> by) | (word << (32 - by))

/** The first `count` primes. */
function primes(count: number): readonly number[] {
  const found: number[] = []
  for (let n = 2; found.length < count; n++) if (found.every(p => n % p !== 0)) found.push(n)
  return found
}

/** The first 32 bits of a root's fractional part. A root below 8 has 49 bits of it in a double. */
const fraction = (root: number): number => Math.floor((root % 1) * 2 ** 32)

/** Sections 4.2.2 and 5.3.3: of the cube roots of the first 64 primes, of the square roots of the first eight. */
const K = Uint32Array.from(primes(64), p => fraction(Math.cbrt(p)))
const start = Uint32Array.from(primes(8), p => fraction(Math.sqrt(p)))
