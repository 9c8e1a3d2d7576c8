/**
 * How a sample is foretold from its neighbours to the left and above; what is kept is how far it lies beside that.
 * `paeth`: PNG third edition, 9.4. `median`: of left, above and the plane through the three neighbours, as in ITU-T T.87, A.4.
 */
export const filters = ['none', 'above', 'paeth', 'median'] as const
export type Filter = (typeof filters)[number]

type Samples = Uint8Array | Uint16Array

/**
 * What is kept of rows from..to of one component. Beyond the picture's left and upper edge lies 0.
 * 8 bits: differences modulo 256. 16 bits: differences modulo 65536, small of either sign, low bytes of all, then high ones.
 * @param plane samples of the component, row by row
 */
export function filtered(
  plane: Samples,
  columns: number,
  from: number,
  to: number,
  filter: Filter,
): Uint8Array<ArrayBuffer> {
  const count = (to - from) * columns
  const wide = plane instanceof Uint16Array
  const out = new Uint8Array(wide ? 2 * count : count)
  const foretold = foretellers[filter]
  let at = 0
  for (let y = from; y < to; y++) {
    const row = y * columns
    for (let x = 0; x < columns; x++, at++) {
      const i = row + x
      const left = x > 0 ? plane[i - 1]! : 0
      const above = y > 0 ? plane[i - columns]! : 0
      const corner = x > 0 && y > 0 ? plane[i - columns - 1]! : 0
      const off = plane[i]! - foretold(left, above, corner)
      if (!wide) out[at] = off
      else {
        const small = (off << 16) >> 16
        const code = (small << 1) ^ (small >> 15)
        out[at] = code
        out[count + at] = code >> 8
      }
    }
  }
  return out
}

/** Undoes {@link filtered} of all rows into `out`, which holds a whole component. */
export function unfiltered<T extends Samples>(
  kept: Uint8Array,
  columns: number,
  rows: number,
  filter: Filter,
  out: T,
): T {
  const count = columns * rows
  const wide = out instanceof Uint16Array
  const foretold = foretellers[filter]
  let i = 0
  for (let y = 0; y < rows; y++)
    for (let x = 0; x < columns; x++, i++) {
      const left = x > 0 ? out[i - 1]! : 0
      const above = y > 0 ? out[i - columns]! : 0
      const corner = x > 0 && y > 0 ? out[i - columns - 1]! : 0
      const code = wide ? kept[i]! | (kept[count + i]! << 8) : kept[i]!
      // Stored into an unsigned sample, which takes the rest of the division by its range.
      out[i] = foretold(left, above, corner) + (wide ? (code >>> 1) ^ -(code & 1) : code)
    }
  return out
}

type Foretell = (left: number, above: number, corner: number) => number

const foretellers: Readonly<Record<Filter, Foretell>> = {
  none: () => 0,
  above: (_, above) => above,
  paeth: (left, above, corner) => {
    const [a, b, c] = [Math.abs(above - corner), Math.abs(left - corner), Math.abs(left + above - 2 * corner)]
    if (a <= b && a <= c) return left
    return b <= c ? above : corner
  },
  median: (left, above, corner) => {
    const high = Math.max(left, above)
    const low = Math.min(left, above)
    if (corner >= high) return low
    return corner <= low ? high : left + above - corner
  },
}
