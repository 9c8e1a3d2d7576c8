import { BadInput } from '../base/finding.ts'
import { animation } from './animation.ts'
import { brushed } from './brushed.ts'
import { coded } from './coded.ts'
import { concentric } from './concentric.ts'
import { crossed } from './crossed.ts'
import type { EffectField, EffectFrame, EffectKind, EffectSpec } from './effect.ts'
import { facets } from './facets.ts'
import { flatImage } from './flat-image.ts'
import { floating } from './floating.ts'
import { following } from './following.ts'
import { gradient } from './gradient.ts'
import { highlight } from './highlight.ts'
import { layered } from './layered.ts'
import { lens } from './lens.ts'
import { matte } from './matte.ts'
import { mosaic } from './mosaic.ts'
import { objectViews } from './object-views.ts'
import { oneSided } from './one-sided.ts'
import { plain } from './plain.ts'
import { radial } from './radial.ts'
import { relief } from './relief.ts'
import { sparkle } from './sparkle.ts'
import { twoImages } from './switch.ts'
import { wave } from './wave.ts'

/** Every kind of holography there is, in the order in which it is offered. */
export const effectKinds: readonly EffectKind[] = [
  plain,
  crossed,
  gradient,
  oneSided,
  concentric,
  radial,
  highlight,
  lens,
  wave,
  relief,
  mosaic,
  facets,
  sparkle,
  brushed,
  matte,
  coded,
  flatImage,
  layered,
  twoImages,
  animation,
  objectViews,
]

/** The kind of a name, or none: a job may have effects of a later version. */
export function knownKind(name: string): EffectKind | undefined {
  return effectKinds.find(one => one.name === name)
}

/** The kind of a name; throws BadInput for a name that nobody knows. */
export function effectKind(name: string): EffectKind {
  const kind = knownKind(name)
  if (kind) return kind
  throw new BadInput(
    'unknown-effect',
    'effect',
    `kind ${JSON.stringify(name)}`,
    'no such kind of holography',
    `Choose one of ${effectKinds.map(one => one.name).join(', ')}.`,
  )
}

/** An effect made ready for an area, in or out of register and following tones as it asks. Throws BadInput. */
export function prepareEffect(spec: EffectSpec, frame: EffectFrame): EffectField {
  const field = effectKind(spec.kind).prepare(spec.parameters, frame)
  const placed = spec.register?.mode === 'continuous' ? floating(field, spec.register, frame) : field
  return spec.follow === undefined ? placed : following(placed, spec.follow)
}
