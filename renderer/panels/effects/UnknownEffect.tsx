import type { EffectSpec } from '../../../core/effects/effect.ts'

/** An effect of a later version: it stays in the job as it is. */
export function UnknownEffect({ effect }: { readonly effect: EffectSpec }) {
  return (
    <div className="note caution" role="note">
      This version does not know the effect “{effect.kind}”. It is kept in the job as it is, with its{' '}
      {Object.keys(effect.parameters).length} numbers, and shown as plain foil. Choosing another kind replaces
      it.
    </div>
  )
}
