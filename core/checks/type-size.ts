import type { CoveragePlane } from './white/contour.ts'

/** Millimetres of a point: a 72nd of an inch. */
export const pointMm = 25.4 / 72
/** Height of a small x over the type size: 0.45 to 0.52 in usual faces (from memory). */
export const usualRatio = 0.48
/** Height of a small x over that of a capital (from memory). */
const smallOverCapital = 0.7

/** Size of type from the height of its small x, pt. @param ratio of that height to the size, 0.45..0.52 */
export const typePt = (xHeightMm: number, ratio: number = usualRatio): number => xHeightMm / (ratio * pointMm)

/** How large the smallest line of a text is. */
export interface TypeSize {
  readonly xHeightMm: number
  /** By the usual ratio. */
  readonly pt: number
}

/**
 * Measures upright lines of type by how much ink each row holds: it rises where small letters begin and falls at the
 * baseline. Good to a pixel of the plane; a text of capitals and figures alone is taken by their height. Null where no
 * line is painted, or where lines run another way than rows.
 * @param text what is written, to know whether it has small letters
 */
export function typeSize(
  { width, height, data }: CoveragePlane,
  text: string,
  pixelMm: number,
): TypeSize | null {
  const ink = Float64Array.from({ length: height }, (_, y) => {
    let sum = 0
    for (let x = 0; x < width; x++) sum += data[y * width + x]!
    return sum / 255
  })
  const written = text.split(/\p{Cc}+/u).filter(line => /[\p{L}\p{N}]/u.test(line))
  const lines = linesOf(ink)
  if (lines.length === 0 || lines.length < written.length) return null
  const tallest = Math.max(...lines.map(([from, to]) => to - from))
  // Marks over letters and dots can stand apart from their line.
  const whole = lines.filter(([from, to]) => to - from > tallest / 3)
  const small = /\p{Ll}/u.test(text)
  const heights = whole.map(([from, to]) =>
    small ? smallLetters(ink, from, to) : heightOf(ink, from, to) * smallOverCapital,
  )
  const xHeightMm = Math.min(...heights) * pixelMm
  return { xHeightMm, pt: typePt(xHeightMm) }
}

/** Less ink in a row than this part of a pixel is none. */
const none = 0.05

function linesOf(ink: Float64Array): readonly (readonly [from: number, to: number])[] {
  const lines: [number, number][] = []
  for (let y = 0; y < ink.length; ) {
    if (ink[y]! < none) {
      y++
      continue
    }
    let to = y
    while (to < ink.length && ink[to]! >= none) to++
    lines.push([y, to])
    y = to
  }
  return lines
}

/** Rows of a line, its soft first and last row by how full they are beside their neighbours. */
function heightOf(ink: Float64Array, from: number, to: number): number {
  if (to - from < 3) return to - from
  const part = (edge: number, next: number) => Math.min(1, ink[edge]! / Math.max(none, ink[next]!))
  return to - from - 2 + part(from, from + 1) + part(to - 1, to - 2)
}

/** Rows between the greatest rise in the upper part of a line and the greatest fall in its lower part. */
function smallLetters(ink: Float64Array, from: number, to: number): number {
  const reach = Math.max(1, Math.round((to - from) * 0.12))
  const mean = (a: number, b: number): number => {
    let sum = 0
    for (let y = a; y < b; y++) sum += ink[y] ?? 0
    return sum / (b - a)
  }
  const change = (y: number) => mean(y, y + reach) - mean(y - reach, y)
  let [top, bottom] = [from, to]
  const middle = (from + to) / 2
  for (let y = from; y <= middle; y++) if (change(y) > change(top) + 1e-9) top = y
  for (let y = to; y > middle; y--) if (change(y) < change(bottom) - 1e-9) bottom = y
  return bottom - top
}
