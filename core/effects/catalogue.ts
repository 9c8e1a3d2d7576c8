import type { EffectControl, EffectKind } from './effect.ts'
import { effectKinds } from './kinds.ts'

/** A kind of holography as other programs and the command line list it. */
export interface CatalogueEntry {
  readonly kind: string
  readonly title: string
  readonly says: string
  readonly limits: {
    readonly smallestMm: number
    readonly pitchNm: readonly [finest: number, widest: number]
    readonly says: string
  }
  readonly parameters: readonly CatalogueParameter[]
}

export type CatalogueParameter =
  | {
      readonly key: string
      readonly label: string
      readonly unit: EffectControl['unit']
      readonly min: number
      readonly max: number
      readonly step: number
      readonly default: number
    }
  | {
      readonly key: string
      readonly label: string
      readonly options: readonly { readonly value: string; readonly label: string }[]
      readonly default: string
    }
  | {
      readonly key: string
      readonly label: string
      /** What is written there. */
      readonly takes: string
      readonly default: unknown
    }

/** Parameters that are neither a number nor one of a few words. */
const others: Readonly<
  Record<string, Pick<Extract<CatalogueParameter, { takes: string }>, 'label' | 'takes'>>
> = {
  profile: { label: 'Heights of a measured groove', takes: '{name, heights} or null' },
  maskLayerId: { label: 'Layer that limits it', takes: 'id of a layer or null' },
  stops: { label: 'Legend of the drawing', takes: 'list of {at, value} or null' },
  outlineId: { label: 'Outline that it runs along', takes: 'id of an outline or null' },
  secondLayerId: { label: 'The other picture', takes: 'id of a layer or null' },
  planes: { label: 'Layers at other depths', takes: 'list of {layerId, depthMm}' },
  layerIds: { label: 'Layers of the other pictures', takes: 'list of ids' },
  assetId: { label: 'Pictures from files', takes: 'id of an asset or null' },
  heightLayerId: { label: 'Layer with the heights', takes: 'id of a layer or null' },
  heightAssetId: { label: 'Picture file with the heights', takes: 'id of an asset or null' },
}

/** Every kind with its parameters and limits, in the order in which they are offered. */
export function catalogue(kinds: readonly EffectKind[] = effectKinds): readonly CatalogueEntry[] {
  return kinds.map(({ name, title, says, limits, choices, controls, defaults }) => ({
    kind: name,
    title,
    says,
    limits,
    parameters: [
      ...choices.map(({ key, label, options }) => ({ key, label, options, default: String(defaults[key]) })),
      ...controls.map(({ key, label, unit, min, max, step }) => ({
        key,
        label,
        unit,
        min,
        max,
        step,
        default: Number(defaults[key]),
      })),
      ...Object.entries(others)
        .filter(([key]) => Object.hasOwn(defaults, key))
        .map(([key, words]) => ({ key, ...words, default: defaults[key] })),
    ],
  }))
}
