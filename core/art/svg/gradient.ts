import type { XmlElement } from '../../base/xml.ts'
import type { InkField } from '../ink/mark.ts'
import { inverse, times } from '../ink/matrix.ts'
import type { Matrix } from '../path.ts'
import { colourOf, type Rgba } from './colour.ts'
import { lengthOf, unitsOf } from './length.ts'
import type { Bounds } from './path.ts'
import { opacityOf } from './style.ts'
import { transformOf } from './transform.ts'

/** What a gradient is read with. */
export interface GradientHow {
  /** An element by its id, if it is in the file. */
  readonly find: (id: string) => XmlElement | undefined
  readonly says: (element: XmlElement) => (property: string) => string | undefined
  /** What it is laid on, in the units of the shape. */
  readonly bounds: Bounds
  /** Units of the shape to page mm. */
  readonly matrix: Matrix
  /** Width and height that 100 % stand for. */
  readonly view: readonly [number, number]
  readonly current: Rgba
  /** Amounts of ink of a colour, one for each of `inks`. */
  readonly inks: readonly number[]
  readonly tints: (colour: Rgba) => readonly number[]
}

interface Stop {
  readonly at: number
  readonly tints: readonly number[]
  readonly alpha: number
}

const mostStops = 1000
const mostLinks = 16

/** A gradient as amounts of ink; a single colour where it has one stop; null where it paints nothing. Source: SVG 1.1, section 13.2. */
export function gradientField(
  element: XmlElement,
  kind: 'linear' | 'radial',
  how: GradientHow,
): InkField | null {
  const chain = linked(element, how)
  const attribute = (name: string): string | undefined =>
    chain.find(one => one.attributes[name] !== undefined)?.attributes[name]
  const isStop = (one: XmlElement) => /(?:^|:)stop$/.test(one.name)
  const source = chain.find(one => one.children.some(isStop))
  const stops: Stop[] = []
  for (const one of (source?.children ?? []).filter(isStop).slice(0, mostStops)) {
    const says = how.says(one)
    const offset = one.attributes.offset ?? '0'
    const at = offset.trim().endsWith('%') ? Number.parseFloat(offset) / 100 : Number(offset)
    const colour = colourOf(says('stop-color') ?? 'black', how.current) ?? [0, 0, 0, 1]
    stops.push({
      at: Math.max(stops.at(-1)?.at ?? 0, Math.min(1, Math.max(0, at || 0))),
      tints: how.tints(colour),
      alpha: colour[3] * opacityOf(says('stop-opacity')),
    })
  }
  if (stops.length === 0) return null
  const onBox = attribute('gradientUnits') !== 'userSpaceOnUse'
  const [left, top, right, bottom] = how.bounds
  if (onBox && !(right > left && bottom > top)) return null
  const place = (name: string, usual: string, axis: 0 | 1 | 2): number => {
    const text = attribute(name) ?? usual
    if (onBox) {
      const length = lengthOf(text)
      return length === null ? 0 : length.unit === '%' ? length.value / 100 : length.value
    }
    const whole = axis === 2 ? Math.hypot(...how.view) / Math.SQRT2 : how.view[axis]
    return unitsOf(text, whole)
  }
  const own = transformOf(attribute('gradientTransform') ?? '')
  const boxed: Matrix = onBox ? [right - left, 0, 0, bottom - top, left, top] : [1, 0, 0, 1, 0, 0]
  const back = own === null ? null : inverse(times(times(own, boxed), how.matrix))
  if (back === null) return null
  const spread = attribute('spreadMethod')
  const along =
    kind === 'linear'
      ? linear([place('x1', '0%', 0), place('y1', '0%', 1), place('x2', '100%', 0), place('y2', '0%', 1)])
      : radial(place('cx', '50%', 0), place('cy', '50%', 1), place('r', '50%', 2), [
          place('fx', attribute('cx') ?? '50%', 0),
          place('fy', attribute('cy') ?? '50%', 1),
        ])
  return fieldOf(stops, how.inks, back, along ?? (() => 1), spread)
}

/** An element and those that it takes what it lacks from. */
function linked(element: XmlElement, { find }: GradientHow): readonly XmlElement[] {
  const chain = [element]
  while (chain.length < mostLinks) {
    const { attributes } = chain.at(-1)!
    const target = (attributes.href ?? attributes['xlink:href'] ?? '').trim()
    const next = target.startsWith('#') ? find(target.slice(1)) : undefined
    if (next === undefined || chain.includes(next)) break
    chain.push(next)
  }
  return chain
}

/** Distance along the gradient, 0 at its start and 1 at its end; null where both are one place. */
function linear([x1, y1, x2, y2]: readonly [number, number, number, number]) {
  const [dx, dy] = [x2 - x1, y2 - y1]
  const square = dx * dx + dy * dy
  return square > 0 ? (x: number, y: number) => ((x - x1) * dx + (y - y1) * dy) / square : null
}

function radial(cx: number, cy: number, r: number, [fx, fy]: readonly [number, number]) {
  if (!(r > 0)) return null
  // A focus outside the circle lies on its edge; just inside, the equation stays one that has an answer everywhere.
  const out = Math.hypot(fx - cx, fy - cy) / r
  const pull = out > 0.999 ? 0.999 / out : 1
  const [ox, oy] = [(fx - cx) * pull, (fy - cy) * pull]
  const c = ox * ox + oy * oy - r * r
  return (x: number, y: number) => {
    const [dx, dy] = [x - cx - ox, y - cy - oy]
    const a = dx * dx + dy * dy
    if (a === 0) return 0
    // From the focus through the place to the circle: how often the way to the place goes into it.
    const b = 2 * (dx * ox + dy * oy)
    return (2 * a) / (-b + Math.sqrt(b * b - 4 * a * c))
  }
}

function fieldOf(
  stops: readonly Stop[],
  inks: readonly number[],
  [a, b, c, d, e, f]: Matrix,
  along: (x: number, y: number) => number,
  spread: string | undefined,
): InkField {
  const within = (t: number): number => {
    if (spread === 'repeat') return t - Math.floor(t)
    if (spread === 'reflect') {
      const half = t / 2 - Math.floor(t / 2)
      return 1 - Math.abs(2 * half - 1)
    }
    return Math.min(1, Math.max(0, t))
  }
  return {
    inks,
    row(x, y, step, count, out, shape) {
      for (let i = 0; i < count; i++) {
        const px = x + i * step
        const t = within(along(a * px + c * y + e, b * px + d * y + f))
        let next = 0
        while (next < stops.length && stops[next]!.at <= t) next++
        const [low, high] = [stops[Math.max(0, next - 1)]!, stops[Math.min(stops.length - 1, next)]!]
        const share = high.at > low.at ? (t - low.at) / (high.at - low.at) : 0
        for (let k = 0; k < inks.length; k++)
          out[k]![i] = low.tints[k]! + share * (high.tints[k]! - low.tints[k]!)
        shape[i] = low.alpha + share * (high.alpha - low.alpha)
      }
    },
  }
}
