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

type Declarations = ReadonlyMap<string, string>

/** Rules of a style sheet by the one selector they have: a tag, `.class` or `#id`. Longer selectors are passed over. */
export type Sheet = ReadonlyMap<string, Declarations>

export function sheetOf(css: string): Sheet {
  const sheet = new Map<string, Map<string, string>>()
  for (const [, selectors, body] of css
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/@[\w-]+[^{};]*;/g, '')
    .matchAll(/([^{}]+)\{([^{}]*)\}/g))
    for (const selector of selectors!.split(',').map(one => one.trim())) {
      if (!/^(?:[a-z]*[.#])?[\w-]+$/i.test(selector)) continue
      const key = selector.replace(/^[a-z]+(?=[.#])/i, '')
      const known = sheet.get(key) ?? new Map<string, string>()
      for (const [name, value] of declarationsOf(body!)) known.set(name, value)
      sheet.set(key, known)
    }
  return sheet
}

/** An element's style: what it inherits, then its attributes, the sheet's rules, and its own `style`. */
export function styleOf(element: XmlElement, above: Style, sheet: Sheet, tag: string): Style {
  const { attributes } = element
  const classes = (attributes.class ?? '').split(/\s+/).filter(Boolean)
  const layers: readonly (Declarations | undefined)[] = [
    sheet.get(tag),
    ...classes.map(name => sheet.get(`.${name}`)),
    attributes.id === undefined ? undefined : sheet.get(`#${attributes.id}`),
    attributes.style === undefined ? undefined : declarationsOf(attributes.style),
  ]
  const said = (name: string): string | undefined => {
    const value = layers.reduce<string | undefined>(
      (before, layer) => layer?.get(name) ?? before,
      attributes[name]?.trim(),
    )
    return value === undefined || value === '' || value === 'inherit' ? undefined : value
  }
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

function declarationsOf(text: string): Declarations {
  return new Map(
    text.split(';').flatMap(one => {
      const colon = one.indexOf(':')
      const value = one.slice(colon + 1).replace(/!important/i, '')
      return colon < 0 ? [] : [[one.slice(0, colon).trim().toLowerCase(), value.trim()] as const]
    }),
  )
}

/** A colour in one spelling: two lines of one colour compare equal. */
export function colorOf(text: string, current = '#000000'): string {
  const plain = text.trim().toLowerCase().replace(/\s+/g, ' ')
  if (plain === 'currentcolor') return current
  if (plain === 'none' || plain === 'transparent') return 'none'
  if (/^#[0-9a-f]{3,4}$/.test(plain)) return `#${[...plain.slice(1, 4)].map(one => one + one).join('')}`
  if (/^#(?:[0-9a-f]{6}|[0-9a-f]{8})$/.test(plain)) return plain.slice(0, 7)
  // A colour of the display, followed by the ink it stands for: the first tells colours apart as well.
  const [, list] = /^rgba?\(([^)]*)\)/.exec(plain) ?? []
  if (list !== undefined) {
    const parts = list.split(/[\s,/]+/).filter(Boolean)
    const bytes = parts
      .slice(0, 3)
      .map(one => (one.endsWith('%') ? Number.parseFloat(one) * 2.55 : Number(one)))
    if (bytes.length === 3 && bytes.every(Number.isFinite)) return hex(bytes)
  }
  return named.get(plain) ?? plain.replace(/ ?icc-color\(.*$/, '')
}

const hex = (bytes: readonly number[]) =>
  `#${bytes
    .map(one =>
      Math.round(Math.min(255, Math.max(0, one)))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`

/** The sixteen colour names of HTML 4.01, section 6.5, and three that CSS adds. */
const named = new Map([
  ['black', '#000000'],
  ['silver', '#c0c0c0'],
  ['gray', '#808080'],
  ['grey', '#808080'],
  ['white', '#ffffff'],
  ['maroon', '#800000'],
  ['red', '#ff0000'],
  ['purple', '#800080'],
  ['fuchsia', '#ff00ff'],
  ['magenta', '#ff00ff'],
  ['green', '#008000'],
  ['lime', '#00ff00'],
  ['olive', '#808000'],
  ['yellow', '#ffff00'],
  ['navy', '#000080'],
  ['blue', '#0000ff'],
  ['teal', '#008080'],
  ['aqua', '#00ffff'],
  ['cyan', '#00ffff'],
])
