import type { FillMark, GroupMark, Ink, Mark, StrokeMark, TextRun } from '../../core/art/ink/mark.ts'
import type { InkPage, PageLayer } from '../../core/art/ink/page.ts'
import { fill, group, pageOf, path, rect, stroke, tints } from './ink-page.ts'

// Pages of inks written by hand, for what is made of them.

/** Amounts of inks by their numbers, 0..1. */
type Amounts = Readonly<Record<number, number>>

/** A filled rectangle: left, bottom, right, top, mm. */
export const filled = (
  box: readonly [number, number, number, number],
  amounts: Amounts,
  look: Partial<FillMark> = {},
): FillMark => fill(rect(...box), tints(amounts), look)

/** A line from point to point, mm. */
export const drawnLine = (
  points: readonly (readonly [number, number])[],
  width: number,
  amounts: Amounts,
  look: Partial<StrokeMark> = {},
): StrokeMark => {
  const words = points.map(([x, y], i) => `${i === 0 ? 'm' : 'l'} ${x} ${y}`)
  return stroke(path(words.join(' ')), { width }, { paint: tints(amounts), ...look })
}

/** Marks that make a picture of their own before it is laid down. */
export const grouped = (marks: readonly Mark[], look: Partial<GroupMark> = {}): GroupMark =>
  group(marks, { isolated: true, ...look })

export const typed = (value: string, sizeMm = 3): TextRun => ({ value, fontName: 'Halden Sans', sizeMm })

export const processInks: readonly Ink[] = ['Cyan', 'Magenta', 'Yellow', 'Black'].map(name => ({
  name,
  alternate: null,
  solidity: null,
  order: null,
}))

export const spotOf = (name: string, own: Partial<Ink> = {}): Ink => ({
  name,
  alternate: { space: 'CMYK', values: [0, 0, 0, 0.5] },
  solidity: null,
  order: null,
  ...own,
})

export const pageLayer = (name: string, own: Partial<PageLayer> = {}): PageLayer => ({
  id: name,
  name,
  parent: null,
  visible: true,
  prints: true,
  step: null,
  ...own,
})

/** @param what 10 × 10 mm in the process inks where nothing else is said */
export const inkPage = (what: Partial<InkPage>): InkPage => ({
  ...pageOf(what.widthMm ?? 10, what.heightMm ?? 10, []),
  inks: processInks,
  ...what,
})
