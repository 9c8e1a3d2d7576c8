import type { XmlElement } from '../../base/xml.ts'

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

/**
 * What an element says of its style, by property: its own `style` before the rules of the sheet before its attributes.
 * What is inherited all the same counts as not said.
 */
export function saysOf(
  { attributes }: XmlElement,
  sheet: Sheet,
  tag: string,
): (property: string) => string | undefined {
  const classes = (attributes.class ?? '').split(/\s+/).filter(Boolean)
  const own = new Map<string, string>()
  for (const layer of [
    sheet.get(tag),
    ...classes.map(name => sheet.get(`.${name}`)),
    attributes.id === undefined ? undefined : sheet.get(`#${attributes.id}`),
    attributes.style === undefined ? undefined : declarationsOf(attributes.style),
  ])
    for (const [name, value] of layer ?? []) own.set(name, value)
  return name => {
    const value = own.get(name) ?? attributes[name]?.trim()
    return value === undefined || value === '' || value === 'inherit' ? undefined : value
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
