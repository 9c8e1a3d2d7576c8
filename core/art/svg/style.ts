import type { StrokeStyle } from '../ink/mark.ts'
import type { FillRule } from '../path.ts'
import { lengthOf, unitMm, unitsOf } from './length.ts'

/** Properties that an element hands down to its members, as they are written. Source: SVG 1.1, appendix N. */
const first = {
  color: 'black',
  fill: 'black',
  'fill-opacity': '1',
  'fill-rule': 'nonzero',
  stroke: 'none',
  'stroke-opacity': '1',
  'stroke-width': '1',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  'stroke-miterlimit': '4',
  'stroke-dasharray': 'none',
  'stroke-dashoffset': '0',
  'clip-rule': 'nonzero',
  visibility: 'visible',
  'font-family': '',
  'font-size': '16px',
  'paint-order': 'normal',
  'marker-start': 'none',
  'marker-mid': 'none',
  'marker-end': 'none',
}

export type Style = Readonly<Record<keyof typeof first, string>>

export const firstStyle: Style = first

const names = Object.keys(first) as (keyof Style)[]

/** What holds inside an element. */
export function styleWithin(above: Style, says: (property: string) => string | undefined): Style {
  let own: Record<keyof Style, string> | null = null
  const set = (name: keyof Style, value: string) => {
    own ??= { ...above }
    own[name] = value
  }
  for (const name of names) {
    const said = says(name)
    if (said === undefined) continue
    set(name, name === 'font-size' ? `${fontSize(said, Number.parseFloat(above[name]))}px` : said)
  }
  // `marker` stands for all three.
  const marker = says('marker')
  if (marker !== undefined)
    for (const name of ['marker-start', 'marker-mid', 'marker-end'] as const) set(name, marker)
  return own ?? above
}

/** Units of the drawing. */
function fontSize(text: string, above: number): number {
  const relative = /^([\d.]+)(em|rem|%)$/.exec(text.trim())
  if (relative !== null)
    return Number(relative[1]) * (relative[2] === '%' ? above / 100 : relative[2] === 'em' ? above : 16)
  const length = lengthOf(text)
  if (length === null || length.unit === '%') return above
  return length.unit === '' ? length.value : (length.value * unitMm[length.unit]) / unitMm.px
}

export const opacityOf = (text: string | undefined): number => {
  if (text === undefined) return 1
  const value = text.trim().endsWith('%') ? Number.parseFloat(text) / 100 : Number(text)
  return Number.isFinite(value) ? Math.min(1, Math.max(0, value)) : 1
}

export const ruleOf = (text: string): FillRule => (text === 'evenodd' ? 'evenodd' : 'nonzero')

const mostDashes = 1000

/** @param whole what 100 % is: the diagonal of the view, over √2 */
export function strokeStyleOf(style: Style, whole: number): StrokeStyle {
  const lengths = style['stroke-dasharray']
    .split(/[\s,]+/)
    .slice(0, mostDashes)
    .map(one => unitsOf(one, whole, Number.NaN))
  // A negative one is a mistake, and none at all a whole line. An odd list is repeated. Source: SVG 1.1, section 11.4.
  const dash =
    lengths.every(one => one >= 0) && lengths.some(one => one > 0)
      ? lengths.length % 2 === 1
        ? [...lengths, ...lengths]
        : lengths
      : []
  const cap = style['stroke-linecap']
  const join = style['stroke-linejoin']
  return {
    width: Math.max(0, unitsOf(style['stroke-width'], whole, 1)),
    cap: cap === 'round' || cap === 'square' ? cap : 'butt',
    join: join === 'round' || join === 'bevel' ? join : 'miter',
    miterLimit: Math.max(1, Number(style['stroke-miterlimit']) || 4),
    dash,
    dashPhase: unitsOf(style['stroke-dashoffset'], whole),
  }
}
