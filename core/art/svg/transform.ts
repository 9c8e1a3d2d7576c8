import { identity, times } from '../ink/matrix.ts'
import type { Matrix } from '../path.ts'

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
    matrix = times(one, matrix)
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
