import { useMemo } from 'react'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { bakingOf } from '../../core/reference/baking.ts'
import type { Scene } from '../../core/reference/scene.ts'

/** The map's levels, computed once a map. */
export function useLevels(map: MaterialMap | null): readonly MaterialMap[] | null {
  return useMemo(() => (map === null ? null : pyramid(map)), [map])
}

/** Tables of this light, board and map; the same object while none of these changes. */
export function useTables(scene: Scene, map: MaterialMap | null): Tables | null {
  const { board } = scene
  const { illuminant } = scene.light
  // biome-ignore lint/correctness/useExhaustiveDependencies: lamp, room and pose are no part of the tables
  return useMemo(() => (map === null ? null : bakeTables(bakingOf(scene, map))), [board, illuminant, map])
}
