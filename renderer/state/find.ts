/** Something that can be found by its words. */
export interface Findable {
  readonly name: string
  /** Other words that people of the trade use for it. */
  readonly words?: string
}

/**
 * Entries that fit what was typed, the best first. Every word typed must be in the entry: at the start of one of its
 * words or anywhere in it; where no entry has them all, as its letters in order from the start of a word. Nothing typed
 * gives all in their order.
 */
export function find<T extends Findable>(typed: string, entries: readonly T[]): readonly T[] {
  const wanted = plain(typed).split(' ').filter(Boolean)
  if (wanted.length === 0) return entries
  const exactly = best(wanted, entries, contained)
  return exactly.length > 0 ? exactly : best(wanted, entries, spelt)
}

/** 1 for the start of the text, down to 0 for no fit. */
type FitIn = (word: string, text: string) => number

function best<T extends Findable>(
  wanted: readonly string[],
  entries: readonly T[],
  fitIn: FitIn,
): readonly T[] {
  return entries
    .map((entry, order) => ({ entry, order, fits: fitOf(wanted, entry, fitIn) }))
    .filter(one => one.fits > 0)
    .sort((a, b) => b.fits - a.fits || a.order - b.order)
    .map(one => one.entry)
}

function fitOf(wanted: readonly string[], entry: Findable, fitIn: FitIn): number {
  const name = plain(entry.name)
  const words = plain(entry.words ?? '')
  let sum = 0
  for (const word of wanted) {
    const fit = Math.max(fitIn(word, name), 0.7 * fitIn(word, words))
    if (fit === 0) return 0
    sum += fit
  }
  // Of two that fit alike, the shorter name says it more exactly.
  return sum / wanted.length - name.length * 1e-4
}

function contained(word: string, text: string): number {
  if (text.startsWith(word)) return 1
  if (text.includes(` ${word}`)) return 0.9
  return text.includes(word) ? 0.6 : 0
}

/** Also mistyped: a letter left out. Two letters in order are in almost everything. */
const spelt: FitIn = (word, text) =>
  contained(word, text) || (word.length > 2 && inOrder(word, text) ? 0.2 : 0)

function inOrder(word: string, text: string): boolean {
  let at = ` ${text}`.indexOf(` ${word[0]}`)
  if (at < 0) return false
  for (const letter of word) {
    at = text.indexOf(letter, at) + 1
    if (at === 0) return false
  }
  return true
}

/** Small letters without accents; what is no letter or digit parts words. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()
