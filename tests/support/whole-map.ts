import type { BuiltMap } from '../../core/host/art.ts'
import type { MaterialMap } from '../../core/material/map.ts'

/** The map of a reply that brings all of it. */
export function wholeMap({ shown }: BuiltMap): MaterialMap {
  const map = shown.kind === 'whole' ? shown.levels[0] : undefined
  if (map === undefined) throw new TypeError('expected a whole map, got a change')
  return map
}
