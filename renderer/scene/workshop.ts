import type { Motions } from '../../core/checks/register/groups.ts'
import { changeOf, type MapChange } from '../../core/material/change.ts'
import { dirtySince } from '../../core/material/edition.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Baking } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import type { Scene } from '../../core/reference/scene.ts'
import type { SpotReading } from '../panels/probe/reading.ts'
import type { LoupeView } from '../panels/probe/types.ts'
import type { SweepAnswers, SweepQuestion } from './sweeping.ts'

export interface SpotPlace {
  readonly xMm: number
  readonly yMm: number
}

type Question =
  | { readonly do: 'levels'; readonly levels: readonly MaterialMap[] }
  | { readonly do: 'change'; readonly change: MapChange }
  | { readonly do: 'slip'; readonly motions: Motions }
  | { readonly do: 'tables'; readonly bakings: readonly Baking[] }
  | { readonly do: 'reading'; readonly scene: Scene; readonly spot: SpotPlace }
  | { readonly do: 'loupe'; readonly scene: Scene; readonly spot: SpotPlace }
  | { readonly do: 'flash'; readonly scenes: readonly Scene[] }
  | SweepQuestion

export type Asked = Question & { readonly id: number }
export type Told =
  | { readonly id: number; readonly value: unknown }
  | { readonly id: number; readonly error: string }

/** Heavy sums away from the window's thread. Answers come in the order of the questions. */
export interface Workshop {
  /** From now on it is this map with its coarser levels that is read. */
  show(levels: readonly MaterialMap[]): void
  /** From now on its groups of plates lie so. */
  slip(motions: Motions): void
  /** One set a spectrum. */
  tables(bakings: readonly Baking[]): Promise<readonly Tables[]>
  /** Of the last map and tables asked for; null beside the panel. */
  reading(scene: Scene, spot: SpotPlace): Promise<SpotReading | null>
  /** Of the last map and tables too: the pixels around a spot; null beside the panel. */
  loupe(scene: Scene, spot: SpotPlace): Promise<LoupeView | null>
  /** The same: a place held in other ways. Long work is asked for in parts, so that it can be given up between them. */
  swept<T extends SweepQuestion>(question: T): Promise<SweepAnswers[T['do']]>
  /** The same: small pictures, as `FlashMeter` takes them. */
  flash(scenes: readonly Scene[]): Promise<readonly Float32Array[]>
}

export function openWorkshop(): Workshop {
  const worker = new Worker(new URL('./workshop.worker.ts', import.meta.url), { type: 'module' })
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>()
  let last = 0
  let shown: readonly MaterialMap[] | null = null
  let lying: Motions | null = null
  worker.onmessage = ({ data }: MessageEvent<Told>) => {
    const asked = waiting.get(data.id)
    waiting.delete(data.id)
    if ('error' in data) asked?.reject(new Error(data.error))
    else asked?.resolve(data.value)
  }
  worker.onerror = event => {
    for (const asked of waiting.values()) asked.reject(new Error(event.message))
    waiting.clear()
  }
  // The worker is trusted for the type, as it is built from the same source.
  const ask = <T>(question: Question): Promise<T> =>
    new Promise((resolve, reject) => {
      const id = ++last
      waiting.set(id, { resolve: resolve as (value: unknown) => void, reject })
      worker.postMessage({ ...question, id })
    })
  return {
    show: levels => {
      if (levels === shown) return
      const dirty = shown && dirtySince(shown, levels)
      const question: Question = dirty
        ? { do: 'change', change: changeOf(levels, dirty, shown?.[0]?.print) }
        : { do: 'levels', levels }
      shown = levels
      // The worker has nothing to say to it; what it cannot do it says when it is asked to read.
      void ask(question).catch(() => undefined)
    },
    slip: motions => {
      if (motions === lying) return
      lying = motions
      void ask({ do: 'slip', motions }).catch(() => undefined)
    },
    tables: bakings => ask({ do: 'tables', bakings }),
    reading: (scene, spot) => ask({ do: 'reading', scene, spot }),
    loupe: (scene, spot) => ask({ do: 'loupe', scene, spot }),
    swept: question => ask(question),
    flash: scenes => ask({ do: 'flash', scenes }),
  }
}
