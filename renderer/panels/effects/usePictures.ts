import type { Picture } from '../../../core/host/picture.ts'
import type { EffectSources } from './sources.ts'
import { useLoaded } from './useLoaded.ts'

/** Pictures of layers in the order of their ids (null: the effect's own layer); null where there is none yet. */
export function usePictures(
  sources: EffectSources,
  ids: readonly (string | null)[],
): readonly (Picture | null)[] {
  const loaded = useLoaded(JSON.stringify([sources.artKey, ids]), () =>
    Promise.all(ids.map(id => sources.picture(id).catch(() => null))),
  )
  return loaded ?? ids.map(() => null)
}
