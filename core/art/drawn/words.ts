import type { TextRun } from '../ink/mark.ts'
import type { Bounds } from '../ink/outline.ts'

/** Type as it was shown, and where. */
interface Shown {
  readonly run: TextRun
  readonly bounds: Bounds
}

/** A gap wider than this part of the em is a space between words. Ours, no source. */
const wordGap = 0.18

/** The words of marks that make up one text: lines apart, and words where the marks leave a gap. */
export function joinedText(shown: readonly Shown[]): string {
  let text = ''
  let before: Shown | null = null
  for (const one of shown) {
    if (before?.run === one.run) continue
    if (before !== null) text += between(before, one, text)
    text += one.run.value
    before = one
  }
  return text
}

function between(a: Shown, b: Shown, text: string): string {
  if (/\s$/.test(text) || /^\s/.test(b.run.value)) return ''
  const size = a.run.sizeMm
  const lower = Math.max(a.bounds[1], b.bounds[1])
  const upper = Math.min(a.bounds[3], b.bounds[3])
  const shared = upper - lower
  const least = Math.min(a.bounds[3] - a.bounds[1], b.bounds[3] - b.bounds[1])
  if (shared < 0.3 * least) return '\n'
  return b.bounds[0] - a.bounds[2] > wordGap * size ? ' ' : ''
}
