/** Floats in as many bytes as they need. */
export interface PackedFloats {
  readonly bytes: number
  /** The floats from..to, bit by bit the same; not to be written to. */
  floats(from: number, to: number): Float32Array
}

/**
 * Samples that came from bytes have few different values: then each is a byte, and a table says which. Others stay as
 * they are.
 */
export function packedFloats(data: Float32Array): PackedFloats {
  const found = numbered(data)
  return found === null ? plain(data) : byNumber(found)
}

interface Numbered {
  readonly numbers: Uint8Array
  /** Bits of the value of each number: −0 and every NaN are values of their own. */
  readonly values: Int32Array
}

// What is kept is made by functions that do not know the rest: a closure keeps all that is around it.

const plain = (data: Float32Array): PackedFloats => ({
  bytes: data.byteLength,
  floats: (from, to) => data.subarray(from, to),
})

const byNumber = ({ numbers, values }: Numbered): PackedFloats => ({
  bytes: numbers.byteLength + values.byteLength,
  floats: (from, to) => {
    const out = new Float32Array(to - from)
    const bits = new Int32Array(out.buffer)
    for (let i = from; i < to; i++) bits[i - from] = values[numbers[i]!]!
    return out
  },
})

/** Values that a byte tells apart. */
const mostValues = 256
/** Slots of the table of values that were met; a power of two. */
const slots = 4096

/** The values by number; null where they are more than a byte tells apart. */
function numbered(data: Float32Array): Numbered | null {
  const bits = new Int32Array(data.buffer, data.byteOffset, data.length)
  const numbers = new Uint8Array(data.length)
  const met = new Int32Array(slots)
  const numberIn = new Int16Array(slots).fill(-1)
  const values: number[] = []
  for (let i = 0; i < bits.length; i++) {
    const value = bits[i]!
    // Multiplicative hashing, the golden ratio of 32 bits: Knuth, The Art of Computer Programming, vol. 3, 6.4.
    let slot = Math.imul(value, 0x9e3779b1) >>> 20
    while (numberIn[slot] !== -1 && met[slot] !== value) slot = (slot + 1) % slots
    if (numberIn[slot] === -1) {
      if (values.length === mostValues) return null
      met[slot] = value
      numberIn[slot] = values.length
      values.push(value)
    }
    numbers[i] = numberIn[slot]!
  }
  return { numbers, values: Int32Array.from(values) }
}
