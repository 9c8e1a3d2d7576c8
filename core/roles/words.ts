/** A term found in a name. */
export interface WordMatch<T> {
  readonly value: T
  /** The term as the table writes it. */
  readonly term: string
  /** What it was found in: whole words of the name in lower case; inside a Chinese or Japanese run the term itself. */
  readonly words: string
  /** Place in the name: index of the first word. */
  readonly at: number
  /** It stands after a linking word, so it says where something lies: the white of "comet on white". */
  readonly behind: boolean
}

/**
 * A name as words: case, accents and width folded, ß as ss, `camelCase`, digits and punctuation split,
 * Chinese and Japanese runs kept whole (they have no gaps between words).
 */
export function wordsOf(name: string): readonly string[] {
  return spelled(name).map(fold)
}

/** The same words as the name spells them. */
function spelled(name: string): readonly string[] {
  const spaced = name
    .normalize('NFKC')
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
  return (
    spaced.match(
      /[\p{sc=Han}\p{sc=Hira}\p{sc=Kana}ー]+|(?:(?![\p{sc=Han}\p{sc=Hira}\p{sc=Kana}ー])\p{L}\p{M}*)+|\p{N}+/gu,
    ) ?? []
  )
}

/** Letters folded for comparison: lower case, no accents, ß as ss, ł as l, ø as o, æ as ae. */
function fold(text: string): string {
  const plain = text
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/ł/g, 'l')
    .replace(/ø/g, 'o')
    .replace(/æ/g, 'ae')
  // Kana keep their voicing marks, which the same decomposition would strip.
  return plain.replace(/[^\p{sc=Hira}\p{sc=Kana}]+/gu, part => part.normalize('NFD').replace(/\p{Mn}/gu, ''))
}

const links = new Set(
  `over under below beneath behind above on for of with without
  auf unter uber hinter fur mit ohne sur sous pour avec sans de du des sobre bajo para con sin
  sopra sotto per senza sob sem onder op achter voor met zonder na pod nad dla bez z`.split(/\s+/),
)

/**
 * All terms of a table that a name holds, in the order of the name; longer terms hide the shorter ones inside them.
 * A term is one or more words; `*` at an end of a one-word term stands for any letters; `=` before it asks for
 * a name that is nothing else (numbers aside); a Chinese or Japanese term matches anywhere inside a run.
 * @param table  terms by value
 */
export function findTerms<T>(
  name: string,
  table: readonly (readonly [T, readonly string[]])[],
): WordMatch<T>[] {
  const own = spelled(name)
  const words = own.map(fold)
  const link = words.findIndex((word, i) => i > 0 && links.has(word))
  const found: (WordMatch<T> & { end: number; length: number })[] = []
  for (const [value, terms] of termsOf(table))
    for (const { term, key } of terms) {
      const hit = place(words, key)
      if (hit === null) continue
      const seen = key.kind === 'run' ? term : own.slice(hit.at, hit.end).join(' ').toLowerCase()
      found.push({ value, term, words: seen, ...hit, behind: link >= 0 && hit.at > link })
    }
  return found
    .filter(one => !found.some(other => other !== one && hides(other, one)))
    .sort((a, b) => a.at - b.at || b.length - a.length)
}

/** Whether a term is written without gaps between words. */
const isRun = (term: string): boolean => /^[\p{sc=Han}\p{sc=Hira}\p{sc=Kana}ー]+$/u.test(term)

interface Place {
  readonly at: number
  /** One past the last word. */
  readonly end: number
  /** Letters matched; decides between terms at one place. */
  readonly length: number
}

function hides(a: Place, b: Place): boolean {
  return a.at <= b.at && a.end >= b.end && a.length > b.length
}

/** A term as it is looked for. */
type Key =
  | { readonly kind: 'whole'; readonly key: Key }
  | { readonly kind: 'run'; readonly text: string }
  | { readonly kind: 'part'; readonly text: string; readonly starts: boolean; readonly ends: boolean }
  | { readonly kind: 'words'; readonly words: readonly string[]; readonly length: number }

type Terms = readonly { readonly term: string; readonly key: Key }[]

/** Every name of a file is held against the same few tables: their terms are taken apart once. */
const known = new WeakMap<readonly string[], Terms>()

function* termsOf<T>(
  table: readonly (readonly [T, readonly string[]])[],
): Generator<readonly [value: T, terms: Terms]> {
  for (const [value, terms] of table) {
    const keys = known.get(terms) ?? terms.map(term => ({ term, key: keyOf(term) }))
    known.set(terms, keys)
    yield [value, keys]
  }
}

function keyOf(term: string): Key {
  if (term.startsWith('=')) return { kind: 'whole', key: keyOf(term.slice(1)) }
  if (isRun(term)) return { kind: 'run', text: term }
  const bare = term.replace(/\*/g, '')
  if (bare !== term)
    return {
      kind: 'part',
      text: wordsOf(bare)[0] ?? '',
      starts: term.endsWith('*'),
      ends: term.startsWith('*'),
    }
  const words = wordsOf(term)
  return { kind: 'words', words, length: words.join('').length }
}

function place(words: readonly string[], key: Key): Place | null {
  switch (key.kind) {
    case 'whole': {
      const rest = words.filter(word => !/^\p{N}+$/u.test(word))
      const hit = place(words, key.key)
      return hit && hit.end - hit.at === rest.length ? hit : null
    }
    case 'run': {
      const at = words.findIndex(word => word.includes(key.text))
      return at < 0 ? null : { at, end: at + 1, length: key.text.length }
    }
    case 'part': {
      const { text, starts, ends } = key
      const at = words.findIndex(
        word =>
          (starts && ends && word.includes(text)) ||
          (starts && !ends && word.startsWith(text)) ||
          (ends && !starts && word.endsWith(text)),
      )
      return at < 0 ? null : { at, end: at + 1, length: text.length }
    }
    case 'words':
      for (let at = 0; at + key.words.length <= words.length; at++)
        if (key.words.every((word, i) => words[at + i] === word))
          return { at, end: at + key.words.length, length: key.length }
      return null
  }
}
