import type { EffectSpec } from '../../../core/effects/effect.ts'
import { knownKind } from '../../../core/effects/kinds.ts'

/** Parameters that are a direction on the carton; the first that a kind has is its own. */
const keys = ['azimuthDeg', 'runDeg', 'directionDeg', 'turnDeg'] as const

/** The direction of an effect on the carton and the parameter that has it; null where a kind has none. */
export function directionOf(
  effect: EffectSpec,
): { readonly key: string; readonly deg: number; readonly min: number; readonly max: number } | null {
  const kind = knownKind(effect.kind)
  const key = keys.find(one => kind?.controls.some(control => control.key === one))
  const control = kind?.controls.find(one => one.key === key)
  if (kind === undefined || control === undefined) return null
  const parameters = { ...kind.defaults, ...effect.parameters }
  const { when } = control
  if (when !== undefined && !when.values.includes(String(parameters[when.key]))) return null
  return { key: control.key, deg: Number(parameters[control.key]), min: control.min, max: control.max }
}
