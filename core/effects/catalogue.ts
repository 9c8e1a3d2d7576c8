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
    ],
  }))
}
