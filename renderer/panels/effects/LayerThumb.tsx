import { Thumb } from '../Thumb.tsx'
import type { EffectSources } from './sources.ts'

/** A layer as the file shows it; null is the effect's own layer. */
export function LayerThumb({
  sources,
  layerId,
}: {
  readonly sources: EffectSources
  readonly layerId: string | null
}) {
  return <Thumb of={`${sources.artKey} ${layerId ?? 'own'}`} load={() => sources.picture(layerId)} />
}
