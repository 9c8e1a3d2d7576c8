import type { Art } from '../core/art/layer.ts'
import type { MaterialMap } from '../core/material/map.ts'
import { pyramid } from '../core/material/mip.ts'
import type { JobWork } from './art-work.ts'
import { mapInputs } from './map-inputs.ts'

/** Coarser levels of the map that was last drawn small: checks read the finest alone. */
export class KeptLevels {
  #last: { readonly art: Art; readonly key: string; readonly coarser: readonly MaterialMap[] } | null = null

  /** The map, then its coarser levels. @param art, work what it was made from */
  of(map: MaterialMap, art: Art, { job, assets, profile }: JobWork): readonly MaterialMap[] {
    const key = JSON.stringify([mapInputs('', job, []), assets, profile])
    if (this.#last?.art !== art || this.#last.key !== key) {
      const [, ...coarser] = pyramid(map)
      this.#last = { art, key, coarser }
    }
    return [map, ...this.#last.coarser]
  }
}
