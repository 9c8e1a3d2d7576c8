import { type PathStep, pathSteps } from '../../base/svg-path.ts'
import { unitsOf } from './length.ts'

/** What the basic shapes of SVG 1.1, chapter 9, draw. */
export const shapeTags = ['path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse'] as const
export type ShapeTag = (typeof shapeTags)[number]

export const isShapeTag = (tag: string): tag is ShapeTag => shapeTags.some(one => one === tag)

type Attributes = Readonly<Record<string, string>>

/**
 * A shape as steps of a path, in its own units, and what is wrong with its data.
 * @param view  width and height that 100 % stand for
 */
export function shapeSteps(
  tag: ShapeTag,
  attributes: Attributes,
  view: readonly [number, number],
): { readonly steps: readonly PathStep[]; readonly mistake: string | null } {
  const x = (name: string) => unitsOf(attributes[name], view[0])
  const y = (name: string) => unitsOf(attributes[name], view[1])
  const good = (d: string) => pathSteps(d)
  switch (tag) {
    case 'path':
      return pathSteps(attributes.d ?? '')
    case 'line':
      return good(`M${x('x1')} ${y('y1')}L${x('x2')} ${y('y2')}`)
    case 'polyline':
    case 'polygon':
      return corners(attributes.points ?? '', tag === 'polygon')
    case 'rect':
      return good(rect(attributes, x, y))
    case 'circle': {
      const r = unitsOf(attributes.r, Math.hypot(...view) / Math.SQRT2)
      return good(oval(x('cx'), y('cy'), r, r))
    }
    case 'ellipse':
      return good(oval(x('cx'), y('cy'), x('rx'), y('ry')))
  }
}

function corners(text: string, closed: boolean): ReturnType<typeof pathSteps> {
  const words = text.split(/[\s,]+/).filter(Boolean)
  // Numbers may run into each other as in path data: "1-2" are two.
  const plain = words.every(word => /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i.test(word))
  if (!plain) return pathSteps(text.trim() === '' ? '' : `M${text}${closed ? 'Z' : ''}`)
  const numbers = words.map(Number)
  const steps: PathStep[] = []
  for (let i = 0; i + 1 < numbers.length; i += 2)
    steps.push({ kind: i === 0 ? 'move' : 'line', to: [numbers[i]!, numbers[i + 1]!] })
  if (closed && steps.length > 0) steps.push({ kind: 'close' })
  return { steps, mistake: numbers.length % 2 === 0 ? null : 'its points are an odd count of numbers' }
}

function rect(attributes: Attributes, x: (name: string) => number, y: (name: string) => number): string {
  const [left, top, width, height] = [x('x'), y('y'), x('width'), y('height')]
  if (!(width > 0 && height > 0)) return ''
  // One radius that is left out is like the other.
  const rx = Math.min(width / 2, Math.max(0, attributes.rx === undefined ? y('ry') : x('rx')))
  const ry = Math.min(height / 2, Math.max(0, attributes.ry === undefined ? x('rx') : y('ry')))
  const [w, h] = [width - 2 * rx, height - 2 * ry]
  if (rx === 0 || ry === 0) return `M${left} ${top}h${width}v${height}h${-width}z`
  const corner = (dx: number, dy: number) => `a${rx} ${ry} 0 0 1 ${dx} ${dy}`
  return (
    `M${left + rx} ${top}h${w}${corner(rx, ry)}v${h}${corner(-rx, ry)}` +
    `h${-w}${corner(-rx, -ry)}v${-h}${corner(rx, -ry)}z`
  )
}

function oval(cx: number, cy: number, rx: number, ry: number): string {
  if (!(rx > 0 && ry > 0)) return ''
  return `M${cx + rx} ${cy}a${rx} ${ry} 0 1 1 ${-2 * rx} 0a${rx} ${ry} 0 1 1 ${2 * rx} 0z`
}
