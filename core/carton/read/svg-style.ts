import { colorOf } from '../../art/svg/colour-word.ts'
import { type Sheet, saysOf } from '../../art/svg/sheet.ts'
import type { XmlElement } from '../../base/xml.ts'

/** What of SVG's styling tells a cut from a crease. All but `display` is handed down. */
export interface Style {
  /** `#rrggbb`, or as written where it is no plain colour; `none` where nothing is painted. */
  readonly stroke: string
  readonly fill: string
  readonly dashed: boolean
  readonly strokeWidth: string
  readonly color: string
  readonly hidden: boolean
}

/** The values that SVG begins with. */
export const initialStyle: Style = {
  stroke: 'none',
  fill: '#000000',
  dashed: false,
  strokeWidth: '1',
  color: '#000000',
  hidden: false,
}

/** An element's style: what it inherits, then its attributes, the sheet's rules, and its own `style`. */
export function styleOf(element: XmlElement, above: Style, sheet: Sheet, tag: string): Style {
  const said = saysOf(element, sheet, tag)
  const color = colorOf(said('color') ?? above.color, above.color)
  const dash = said('stroke-dasharray')
  return {
    color,
    stroke: colorOf(said('stroke') ?? above.stroke, color),
    fill: colorOf(said('fill') ?? above.fill, color),
    strokeWidth: said('stroke-width') ?? above.strokeWidth,
    dashed: dash === undefined ? above.dashed : /[1-9]/.test(dash),
    hidden:
      above.hidden ||
      said('display') === 'none' ||
      ['hidden', 'collapse'].includes(said('visibility') ?? '') ||
      Number(said('opacity') ?? 1) === 0,
  }
}
