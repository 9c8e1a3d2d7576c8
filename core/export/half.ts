const single = new Float32Array(1)
const bits = new Uint32Array(single.buffer)

/** Largest number of 16 bits. */
export const mostHalf = 65504

/**
 * A number as 16-bit floating point, nearest, ties to even; what is too large becomes infinite.
 * Source: IEEE 754-2019, binary16.
 */
export function toHalf(value: number): number {
  single[0] = value
  const word = bits[0]!
  const sign = (word >>> 16) & 0x8000
  const size = word & 0x7fffffff
  if (size > 0x7f800000) return sign | 0x7e00
  // Halfway between the largest number and the next that there would be.
  if (size >= 0x477ff000) return sign | 0x7c00
  // Below 2^-14 there is no leading one: the value counts in steps of 2^-24, and adding ½ rounds it to one.
  if (size < 0x38800000) return sign | roundEven(Math.abs(single[0]) * 2 ** 24)
  const base = size - 0x38000000
  const low = base & 0x1fff
  const high = base >>> 13
  return sign | (high + (low > 0x1000 || (low === 0x1000 && high & 1) ? 1 : 0))
}

function roundEven(value: number): number {
  const down = Math.floor(value)
  const rest = value - down
  return rest > 0.5 || (rest === 0.5 && down % 2 === 1) ? down + 1 : down
}
