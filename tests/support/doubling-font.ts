import { bytesOf } from './pdf-write.ts'

/**
 * A TrueType font whose letter A is a triangle doubled as often as is asked: glyph n is made of glyph n − 1 twice. Forty
 * doublings take a kilobyte, and no machine's memory to draw. Source of the tables: OpenType 1.9, glyf, loca, cmap 4.
 */
export function doublingFont(doublings: number): Uint8Array {
  const box = words(0, 0, 500, 500)
  const triangle = [words(1), box, words(2, 0), [1, 1, 1], words(0, 500, -250), words(0, 0, 500)].flat()
  // Offsets in words, and another part follows; then the last part.
  const twice = (glyph: number): number[] =>
    [words(-1), box, words(0x23, glyph, 0, 0), words(0x03, glyph, 10, 10)].flat()
  const glyphs = [triangle, ...Array.from({ length: doublings }, (_, glyph) => twice(glyph))].map(padded)
  const count = glyphs.length
  let end = 0
  const ends = glyphs.map(({ length }) => (end += length))
  return sfnt({
    cmap: [
      words(0, 1, 3, 1),
      longs(12),
      words(4, 32, 0, 4, 4, 1, 0, 65, -1, 0, 65, -1, count - 1 - 65, 1, 0, 0),
    ],
    glyf: glyphs,
    head: [
      longs(0x10000, 0, 0, 0x5f0f3cf5),
      words(0, 1000),
      longs(0, 0, 0, 0),
      words(0, 0, 500, 500, 0, 8, 2, 1, 0),
    ],
    hhea: [longs(0x10000), words(800, -200, 0, 500, 0, 0, 500, 1, 0, 0, 0, 0, 0, 0, 0, count)],
    hmtx: glyphs.map(() => words(500, 0)),
    loca: [longs(0, ...ends)],
    maxp: [longs(0x10000), words(count, 3, 1, 3, 1, 2, 0, 0, 0, 0, 0, 0, 2, doublings)],
  })
}

const words = (...values: number[]): number[] => values.flatMap(value => [(value >> 8) & 255, value & 255])
const longs = (...values: number[]): number[] =>
  values.flatMap(value => [...words(value >>> 16), ...words(value & 0xffff)])
const padded = (bytes: readonly number[]): number[] => [...bytes, ...[0, 0, 0].slice(0, -bytes.length & 3)]

function sfnt(tables: Readonly<Record<string, readonly (readonly number[])[]>>): Uint8Array {
  const all = Object.entries(tables).map(([name, parts]) => ({ name, bytes: parts.flat() }))
  let at = 12 + 16 * all.length
  const directory = all.map(({ name, bytes }) => {
    const place = at
    at += padded(bytes).length
    return [...bytesOf(name), ...longs(0, place, bytes.length)]
  })
  const head = [...longs(0x10000), ...words(all.length, 64, 2, 48)]
  return Uint8Array.from([head, ...directory, ...all.map(({ bytes }) => padded(bytes))].flat())
}
