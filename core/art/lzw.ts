/**
 * Undoes LZW with codes of 9 to 12 bits, most significant bit first (ISO 32000-2, 7.4.4).
 * @param early  1: codes grow one sooner than they must, as most files have it
 * @param limit  bytes that may come out of it
 */
export function unpackLzw(
  packed: Uint8Array,
  early: number,
  limit: number,
): { bytes: Uint8Array; end: 'whole' | 'cut' | 'over' } {
  let out = new Uint8Array(Math.min(limit, Math.max(1024, packed.length * 4)))
  let size = 0
  // Each entry is a piece of what came out already: where it begins and how long it is.
  const starts = new Uint32Array(4097)
  const lengths = new Uint32Array(4097)
  let next = 258
  let width = 9
  let bits = 0
  let count = 0
  let last: { start: number; length: number } | null = null
  const done = (end: 'whole' | 'cut' | 'over') => ({ bytes: out.subarray(0, size), end })

  for (const byte of packed) {
    bits = ((bits << 8) | byte) & 0xffffff
    count += 8
    if (count < width) continue
    const code = (bits >> (count - width)) & ((1 << width) - 1)
    count -= width
    if (code === 257) return done('whole')
    if (code === 256) {
      next = 258
      width = 9
      last = null
      continue
    }
    if (code > 257 && code > next) return done('cut')
    if (code > 257 && last === null) return done('cut')
    const start = code < 256 ? size : code === next ? (last?.start ?? 0) : (starts[code] ?? 0)
    const length: number = code < 256 ? 1 : code === next ? (last?.length ?? 0) + 1 : (lengths[code] ?? 0)
    if (size + length > limit) return done('over')
    if (size + length > out.length) {
      const larger = new Uint8Array(Math.min(limit, Math.max(out.length * 2, size + length)))
      larger.set(out)
      out = larger
    }
    if (code < 256) out[size] = code
    else for (let at = 0; at < length; at++) out[size + at] = out[start + at] ?? 0
    if (last !== null && next < 4096) {
      starts[next] = last.start
      lengths[next] = last.length + 1
      next++
    }
    last = { start: size, length }
    size += length
    // The entry that this code makes is written only when the next has come.
    width = next + 1 + early > 2048 ? 12 : next + 1 + early > 1024 ? 11 : next + 1 + early > 512 ? 10 : 9
  }
  return done('cut')
}
