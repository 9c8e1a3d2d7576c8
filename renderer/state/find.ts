/** Something that can be found by its words. */
export interface Findable {
  readonly name: string
  /** Other words that people of the trade use for it. */
  readonly words?: string
}

/**
 * Entries that fit what was typed, the best first. Every word typed must be in the entry: at the start of one of its
 * words, anywhere in it, or as its letters in order. Nothing typed gives all in their order.
 */
export function find<T extends Findable>(typed: string, entries: readonly T[]): readonly T[] {
  const wanted = plain(typed).split(' ').filter(Boolean)
  if (wanted.length === 0) return entries
  return entries
    .map((entry, order) => ({ entry, order, fits: fitOf(wanted, entry) }))
    .filter(one => one.fits > 0)
    .sort((a, b) => b.fits - a.fits || a.order - b.order)
    .map(one => one.entry)
}

function fitOf(wanted: readonly string[], entry: Findable): number {
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

/** 1 for the start of the text, down to 0 for no fit. */
function fitIn(word: string, text: string): number {
  if (text.startsWith(word)) return 1
  if (text.includes(` ${word}`)) return 0.9
  if (text.includes(word)) return 0.6
  // Two letters in order are in almost everything.
  return word.length > 2 && inOrder(word, text) ? 0.2 : 0
}

function inOrder(word: string, text: string): boolean {
  let at = 0
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
