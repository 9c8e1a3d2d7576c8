/**
 * Unpacks one row of PackBits runs (Apple TN1023; TIFF 6.0 section 9) into `out[o, oEnd)`.
 * A pad byte behind a full row is passed over.
 * @returns whether the runs give exactly the row
 */
export function unpackRow(
  packed: Uint8Array,
  from: number,
  end: number,
  out: Uint8Array,
  o: number,
  oEnd: number,
): boolean {
  let s = from
  let d = o
  while (s < end && d < oEnd) {
    const n = packed[s++]!
    if (n < 128) {
      const stop = d + n + 1
      if (stop > oEnd || s + n >= end) return false
      if (n < 24) while (d < stop) out[d++] = packed[s++]!
      else {
        out.set(packed.subarray(s, s + n + 1), d)
        d = stop
        s += n + 1
      }
    } else if (n > 128) {
      const stop = d + 257 - n
      if (stop > oEnd || s >= end) return false
      const value = packed[s++]!
      if (n > 224) while (d < stop) out[d++] = value
      else {
        out.fill(value, d, stop)
        d = stop
      }
    }
  }
  return d === oEnd
}

/** The fewest bytes that can hold a row: two for 128. */
export function leastPacked(rowBytes: number): number {
  return 2 * Math.ceil(rowBytes / 128)
}
