import type { EffectSpec } from '../../../core/effects/effect.ts'
import type { Follow } from '../../../core/effects/follow.ts'
import { Choice, Pick } from '../Choice.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly follow: EffectSpec['follow']
  readonly layers: readonly { readonly id: string; readonly name: string }[]
  /** Whether the effect's own area has tones; a drawn one has none. */
  readonly hasOwn: boolean
  readonly onChange: (follow: Follow | undefined, gesture: string | null) => void
  readonly onSettle: () => void
}

const nothing = ''
const own = ' own'

/** Lets the effect grow weaker or stronger with the tones of artwork. */
export function FollowFields({ follow, layers, hasOwn, onChange, onSettle }: Props) {
  const from = follow === undefined ? nothing : follow.from === 'own' ? own : follow.from.layerId
  return (
    <>
      <Pick
        label="Follows tones of"
        value={from}
        options={[
          { value: nothing, title: 'nothing: the same everywhere' },
          ...(hasOwn ? [{ value: own, title: 'this layer itself' }] : []),
          ...layers.map(layer => ({ value: layer.id, title: `“${layer.name}”` })),
        ]}
        onChange={value =>
          onChange(
            value === nothing
              ? undefined
              : {
                  what: 'share',
                  gain: 1,
                  ...follow,
                  from: value === own ? 'own' : { layerId: value },
                },
            null,
          )
        }
      />
      {follow === undefined ? null : (
        <>
          <Choice
            label="What follows"
            value={follow.what}
            options={[
              { value: 'share', title: 'Share', says: 'Fewer cells have grooves; the rest is a mirror.' },
              { value: 'depth', title: 'Depth', says: 'The grooves grow flatter.' },
            ]}
            onChange={what => onChange({ ...follow, what }, null)}
          />
          <div className="fields two">
            <NumberField
              label="Weaker under dark"
              says="100 % leaves nothing under black; below 0 it is the light tones that weaken it."
              unit="%"
              value={100 * follow.gain}
              min={-100}
              max={100}
              step={5}
              onChange={percent => onChange({ ...follow, gain: percent / 100 }, 'gain')}
              onSettle={onSettle}
            />
          </div>
        </>
      )}
    </>
  )
}
