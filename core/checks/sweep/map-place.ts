import type { MaterialMap } from '../../material/map.ts'
import type { SitePlace } from './site-sweep.ts'

type Size = Pick<MaterialMap, 'width' | 'height' | 'widthMm' | 'heightMm'>

/** The pixel at a part of the map's width from the left and of its height from the top, 0..1, and its middle. */
export function matterPlace(map: Size, across: number, down: number): SitePlace {
  const column = Math.min(map.width - 1, Math.max(0, Math.floor(across * map.width)))
  const row = Math.min(map.height - 1, Math.max(0, Math.floor(down * map.height)))
  return {
    column,
    row,
    xMm: ((column + 0.5) / map.width) * map.widthMm,
    yMm: (1 - (row + 0.5) / map.height) * map.heightMm,
  }
}
