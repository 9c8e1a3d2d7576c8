import type { HolographyArea } from './area-plan.ts'
import { sourceKey } from './kept-coverage.ts'
import type { OpenArea } from './pictures.ts'
import type { MapSettings } from './settings.ts'

/**
 * What an area puts on the map follows from this: equal keys, equal pixels. Text, then the pictures of files, which
 * are the same only as they are.
 */
export function designKey(
  area: HolographyArea | OpenArea,
  settings: Pick<MapSettings, 'panel' | 'outlines' | 'views'>,
): readonly unknown[] {
  const { id, source, mask, spec, place } = area
  const words = new Set(wordsOf(spec))
  const outlines = (settings.outlines ?? []).filter(outline => words.has(outline.id))
  const text = JSON.stringify([
    id,
    sourceKey(source),
    mask && sourceKey(mask),
    spec,
    place,
    outlines.map(outline => outline.rings),
    settings.panel,
  ])
  const views = [...words].map(word => settings.views?.(word)).filter(found => found !== undefined)
  return [text, ...views]
}

export const sameDesign = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((part, i) => part === b[i])

/** All texts in a value of plain data. */
function wordsOf(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value]
  if (typeof value !== 'object' || value === null) return []
  return Object.values(value).flatMap(wordsOf)
}
