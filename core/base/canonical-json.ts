/**
 * The one text of a value: no space, keys by their UTF-16 code units, numbers and strings as the language writes them.
 * Equal values have equal texts, so a hash of the text is a hash of the value.
 * Throws where a value has no such text: a number that is not finite, half a surrogate pair, anything that JSON has not.
 * Source: RFC 8785, sections 3.2.1 to 3.2.3. A field that is `undefined` counts as left out, as in every JSON writer.
 */
export function canonicalJson(value: unknown): string {
  switch (typeof value) {
    case 'boolean':
      return String(value)
    case 'number':
      if (!Number.isFinite(value)) throw new Error(`canonicalJson: expected a finite number, got ${value}`)
      return JSON.stringify(value)
    case 'string':
      return quoted(value)
    case 'object':
      if (value === null) return 'null'
      if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`
      return `{${Object.entries(value)
        .filter(([, one]) => one !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([key, one]) => `${quoted(key)}:${canonicalJson(one)}`)
        .join(',')}}`
    default:
      throw new Error(`canonicalJson: expected a JSON value, got a ${typeof value}`)
  }
}

function quoted(text: string): string {
  if (/\p{Cs}/u.test(text)) throw new Error('canonicalJson: expected whole characters, got half a pair')
  return JSON.stringify(text)
}
