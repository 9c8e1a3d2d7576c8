import type { ExpectedBars } from './bars.ts'

/**
 * Margin that a reader has left on one scan line, 0..1: how far every measured width keeps from the threshold at which
 * it would be read as another (1 = all of it). Null where a character is read wrong or the count of bars is another.
 * After ISO/IEC 15416 and the symbologies' reference decoders, from memory: retail and Code 128 by edge to similar
 * edge, which bars of even growth leave alone, and by the sum of the bars where only that tells two characters apart.
 * @param widths measured, any unit, the first bar first
 */
export function decodability({ kind, runs }: ExpectedBars, widths: readonly number[]): number | null {
  if (widths.length !== runs.length) return null
  const margin = kind === 'ITF' ? twoWidthMargin(runs, widths) : moduleMargin(kind, runs, widths)
  return margin > 0 ? margin : null
}

function moduleMargin(
  kind: Exclude<ExpectedBars['kind'], 'ITF'>,
  runs: readonly number[],
  widths: readonly number[],
): number {
  let margin = 1
  for (const { from, count } of charactersOf(kind, runs.length)) {
    const own = widths.slice(from, from + count)
    const ought = runs.slice(from, from + count)
    const module = sum(own) / sum(ought)
    for (let i = 0; i + 2 < count; i++) {
      const off = Math.abs((own[i]! + own[i + 1]!) / module - (ought[i]! + ought[i + 1]!))
      margin = Math.min(margin, (0.5 - off) / 0.5)
    }
    const bars = (all: readonly number[]) => sum(all.filter((_, i) => (from + i) % 2 === 0))
    const off = Math.abs(bars(own) / module - bars(ought))
    if (kind === 'Code 128') margin = Math.min(margin, (1.75 - off) / 1.75)
    else if (ambiguous.has(ought.join(''))) margin = Math.min(margin, 1 - off)
  }
  return margin
}

/** Digits 1 and 7, 2 and 8 have the same edges to similar edges: their bars sum to three modules or five. */
const ambiguous = new Set(['2221', '1312', '2122', '1213', '1222', '2131', '2212', '3121'])

function charactersOf(
  kind: Exclude<ExpectedBars['kind'], 'ITF'>,
  elements: number,
): readonly { readonly from: number; readonly count: number }[] {
  const every = (from: number, count: number, characters: number) =>
    Array.from({ length: characters }, (_, i) => ({ from: from + i * count, count }))
  switch (kind) {
    case 'EAN-13':
    case 'UPC-A':
      return [...every(3, 4, 6), ...every(32, 4, 6)]
    case 'EAN-8':
      return [...every(3, 4, 4), ...every(24, 4, 4)]
    case 'UPC-E':
      return every(3, 4, 6)
    case 'Code 128':
      return every(0, 6, (elements - 1) / 6)
  }
}

/** Narrow and wide are told apart at the middle between their means. */
function twoWidthMargin(runs: readonly number[], widths: readonly number[]): number {
  const mean = (wide: boolean) => {
    const own = widths.filter((_, i) => runs[i]! > 1 === wide)
    return sum(own) / own.length
  }
  const [narrow, wide] = [mean(false), mean(true)]
  const half = (wide - narrow) / 2
  return Math.min(
    1,
    ...widths.map((width, i) => (runs[i]! > 1 ? width - narrow - half : narrow + half - width) / half),
  )
}

const sum = (all: readonly number[]): number => all.reduce((total, one) => total + one, 0)
