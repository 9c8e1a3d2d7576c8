import type { Piece } from './legibility/letters.ts'

/** Millimetres of a point: 1/72 inch. */
export const pointMm = 25.4 / 72

/** How high type is, read from its letters. */
export interface TypeSize {
  readonly xHeightMm: number
  readonly points: number
  /** What was measured: small letters, or capitals and figures, whose x-height is inferred. */
  readonly from: 'small letters' | 'capitals'
  /** Lines run up or down the art. */
  readonly upright: boolean
}

/** Height of capitals and figures over point size; common faces, from memory. */
export const capitalRatio = 0.7

/** Point size of type by its x-height. @param xRatio x-height over point size, usually 0.45 to 0.52 */
export const pointsOf = (xHeightMm: number, xRatio: number): number => xHeightMm / (xRatio * pointMm)

/** Pieces that are at least so high, of the highest that count, are letters; the others are dots and strokes. */
const letterPart = 0.4
/** Letters of one kind are as high as each other within this part: round ones reach over. */
const alike = 0.08
/** Part of the letters that makes a kind. */
const kindPart = 0.15
/** x-height over that of capitals: where both are seen they lie so. */
const smallToCapital = [0.55, 0.87] as const

/**
 * Size of type by the heights of its pieces; null where there is none. With the text known, its letters say which
 * heights are x-heights; without it, two kinds of heights are small letters and capitals, and one kind is capitals,
 * the stricter reading. Letters that touch each other count as one: then this is an estimate.
 * @param xRatio x-height over point size
 */
export function typeSize(pieces: readonly Piece[], text: string | null, xRatio: number): TypeSize | null {
  if (pieces.length === 0) return null
  const upright = linesRunUp(pieces)
  const heights = pieces
    .map(one => (upright ? one.rightMm - one.leftMm : one.topMm - one.bottomMm))
    .sort((a, b) => a - b)
  // The highest twentieth may be brackets, or letters that touch.
  const tall = heights[Math.floor(0.95 * (heights.length - 1))]!
  const letters = heights.filter(height => height >= letterPart * tall)
  const kinds = kindsOf(letters)
  const [low, high] = [kinds[0] ?? tall, kinds.at(-1) ?? tall]
  const ratio = low / high
  const both = ratio >= smallToCapital[0] && ratio <= smallToCapital[1]
  const small =
    text === null ? both : smallLetters.test(text) && (both || !tallLetters.test(text) || ratio > 0.95)
  return small
    ? { xHeightMm: low, points: pointsOf(low, xRatio), from: 'small letters', upright }
    : {
        xHeightMm: (high * xRatio) / capitalRatio,
        points: high / (capitalRatio * pointMm),
        from: 'capitals',
        upright,
      }
}

const smallLetters = /[acemnorsuvwxzа-яα-ω]/u
const tallLetters = /[A-Zbdfhklt0-9gjpqyА-ЯΑ-Ω]/u

/** Heights that many letters share, rising; each the middle of its letters. */
function kindsOf(sorted: readonly number[]): readonly number[] {
  const kinds: number[] = []
  for (let i = 0; i < sorted.length; ) {
    let end = i
    while (end < sorted.length && sorted[end]! <= sorted[i]! * (1 + alike)) end++
    if (end - i >= Math.max(1, kindPart * sorted.length)) {
      kinds.push(sorted[(i + end - 1) >> 1]!)
      i = end
    } else i++
  }
  return kinds
}

/** Letters of a line share its foot: upper and lower ends agree more often along the line than across it. */
function linesRunUp(pieces: readonly Piece[]): boolean {
  const across = agreeing(pieces.flatMap(one => [one.topMm, one.bottomMm]))
  const along = agreeing(pieces.flatMap(one => [one.leftMm, one.rightMm]))
  return along > across
}

/** How many pairs of neighbours in order lie within a twentieth of their usual distance. */
function agreeing(ends: number[]): number {
  const sorted = [...ends].sort((a, b) => a - b)
  const range = sorted.at(-1)! - sorted[0]!
  const near = range / (20 * Math.max(1, ends.length / 8))
  return sorted.slice(1).filter((end, i) => end - sorted[i]! <= near).length
}
