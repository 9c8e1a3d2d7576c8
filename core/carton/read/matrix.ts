import type { Point } from '../die.ts'

/** x' = a x + c y + e, y' = b x + d y + f, in the order in which SVG writes them. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number]

export const identity: Matrix = [1, 0, 0, 1, 0, 0]

/** First `inner`, then `outer`. */
export function times(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer
  const [g, h, i, j, k, l] = inner
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f]
}

export function at([a, b, c, d, e, f]: Matrix, [x, y]: Point): Point {
  return [a * x + c * y + e, b * x + d * y + f]
}

/**
 * A `transform` of SVG 1.1, section 7.6.
 * @returns null when it cannot be read
 */
export function transformOf(text: string): Matrix | null {
  let matrix = identity
  const rest = text.replace(/([A-Za-z]+)\s*\(([^()]*)\)[\s,]*/g, (_, name: string, list: string) => {
    const numbers = list
      .split(/[\s,]+/)
      .filter(Boolean)
      .map(Number)
    const one = numbers.every(Number.isFinite) ? oneOf(name, numbers) : null
    if (one === null) return '?'
    matrix = times(matrix, one)
    return ''
  })
  return rest.trim() === '' ? matrix : null
}

function oneOf(name: string, n: readonly number[]): Matrix | null {
  const turn = (degrees: number) => (degrees * Math.PI) / 180
  switch (name) {
    case 'matrix':
      return n.length === 6 ? [n[0]!, n[1]!, n[2]!, n[3]!, n[4]!, n[5]!] : null
    case 'translate':
      return n.length === 1 || n.length === 2 ? [1, 0, 0, 1, n[0]!, n[1] ?? 0] : null
    case 'scale':
      return n.length === 1 || n.length === 2 ? [n[0]!, 0, 0, n[1] ?? n[0]!, 0, 0] : null
    case 'rotate': {
      if (n.length !== 1 && n.length !== 3) return null
      const [c, s] = [Math.cos(turn(n[0]!)), Math.sin(turn(n[0]!))]
      const [x, y] = [n[1] ?? 0, n[2] ?? 0]
      return [c, s, -s, c, x - c * x + s * y, y - s * x - c * y]
    }
    case 'skewX':
      return n.length === 1 ? [1, 0, Math.tan(turn(n[0]!)), 1, 0, 0] : null
    case 'skewY':
      return n.length === 1 ? [1, Math.tan(turn(n[0]!)), 0, 1, 0, 0] : null
    default:
      return null
  }
}
