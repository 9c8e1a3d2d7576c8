import { BadInput } from '../base/finding.ts'
import { animation } from './animation.ts'
import { coded } from './coded.ts'
import { concentric } from './concentric.ts'
import type { EffectField, EffectFrame, EffectKind, EffectSpec } from './effect.ts'
import { layered } from './layered.ts'
import { lens } from './lens.ts'
import { objectViews } from './object-views.ts'
import { plain } from './plain.ts'
import { radial } from './radial.ts'
import { relief } from './relief.ts'
import { twoImages } from './switch.ts'

/** Every kind of holography there is, in the order in which it is offered. */
export const effectKinds: readonly EffectKind[] = [
  plain,
  concentric,
  radial,
  coded,
  lens,
  relief,
  layered,
  twoImages,
  animation,
  objectViews,
]

/** The kind of a name; throws BadInput for a name that nobody knows. */
export function effectKind(name: string): EffectKind {
  const kind = effectKinds.find(one => one.name === name)
  if (kind) return kind
  throw new BadInput(
    'unknown-effect',
    'effect',
    `kind ${JSON.stringify(name)}`,
    'no such kind of holography',
    `Choose one of ${effectKinds.map(one => one.name).join(', ')}.`,
  )
}

export function prepareEffect(spec: EffectSpec, frame: EffectFrame): EffectField {
  return effectKind(spec.kind).prepare(spec.parameters, frame)
}
