/**
 * A number 0 ≤ n < 1 that looks random and is always the same for the same arguments.
 * @param x,y  whole numbers: a cell
 * @param seed whole number: another scatter
 * @param use  whole number: several numbers for one cell
 * Source of the mixing: the finalizer of MurmurHash3, 32 bit, A. Appleby, public domain.
 */
export function chance(x: number, y: number, seed: number, use: number): number {
  let h = mixed(Math.imul(seed, 0x9e3779b1) + use)
  h = mixed(h ^ Math.imul(x, 0x85ebca77))
  h = mixed(h ^ Math.imul(y, 0xc2b2ae3d))
  return (h >>> 0) / 2 ** 32
}

/** The same spread as a normal deviate of mean 0 and deviation 1; takes two uses, from `use` on. */
export function normal(x: number, y: number, seed: number, use: number): number {
  const radius = Math.sqrt(-2 * Math.log(1 - chance(x, y, seed, use)))
  return radius * Math.cos(2 * Math.PI * chance(x, y, seed, use + 1))
}

function mixed(value: number): number {
  let h = value | 0
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}
