/**
 * Lines of a text that are no wider than asked: broken at blanks, else after a sign that ends a part of a name or path,
 * else anywhere.
 * @param width of a piece of text
 */
export function wrapped(text: string, most: number, width: (piece: string) => number): readonly string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/ +/).filter(part => part !== '')) {
    const longer = line === '' ? word : `${line} ${word}`
    if (width(longer) <= most) {
      line = longer
      continue
    }
    if (line !== '') lines.push(line)
    const parts = width(word) <= most ? [word] : broken(word, most, width)
    lines.push(...parts.slice(0, -1))
    line = parts.at(-1) ?? ''
  }
  if (line !== '') lines.push(line)
  return lines.length === 0 ? [''] : lines
}

/** A word in parts that fit. */
function broken(word: string, most: number, width: (piece: string) => number): readonly string[] {
  const signs = [...word]
  const parts: string[] = []
  for (let from = 0; from < signs.length; ) {
    let fits = fitting(signs, from, most, width)
    if (from + fits < signs.length) {
      const nice = signs.slice(from, from + fits).findLastIndex(sign => '/\\-_.,:'.includes(sign)) + 1
      if (nice > fits / 2) fits = nice
    }
    parts.push(signs.slice(from, from + fits).join(''))
    from += fits
  }
  return parts
}

/** No line of a page has more signs. */
const mostSigns = 400

/** How many signs fit from a place on, at least one. */
function fitting(
  signs: readonly string[],
  from: number,
  most: number,
  width: (piece: string) => number,
): number {
  let low = 1
  let high = Math.min(signs.length - from, mostSigns)
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if (width(signs.slice(from, from + middle).join('')) <= most) low = middle
    else high = middle - 1
  }
  return low
}
