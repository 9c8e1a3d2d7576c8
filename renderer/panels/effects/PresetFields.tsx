import { useId, useState } from 'react'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import { knownKind } from '../../../core/effects/kinds.ts'

export interface PresetActions {
  readonly presets: readonly { readonly name: string; readonly effect: EffectSpec }[]
  readonly onSave: (name: string, effect: EffectSpec) => void
  readonly onRename: (name: string, next: string) => void
  readonly onRemove: (name: string) => void
}

interface Props extends PresetActions {
  readonly effect: EffectSpec
  readonly onApply: (effect: EffectSpec) => void
}

/** Effects that the job keeps under a name. */
export function PresetFields({ effect, presets, onApply, onSave, onRename, onRemove }: Props) {
  const id = useId()
  const [name, setName] = useState('')
  const wanted = name.trim()
  return (
    <details className="effect-more kept">
      <summary>Kept effects ({presets.length})</summary>
      <ul>
        {presets.map(preset => (
          <li key={preset.name}>
            <button
              type="button"
              className="plain"
              title={`Use it here: ${knownKind(preset.effect.kind)?.title ?? preset.effect.kind}`}
              onClick={() => onApply(preset.effect)}
            >
              {preset.name}
            </button>
            <input
              type="text"
              aria-label={`New name for ${preset.name}`}
              defaultValue={preset.name}
              onBlur={event => onRename(preset.name, event.target.value.trim())}
              onKeyDown={event => {
                if (event.key === 'Enter') event.currentTarget.blur()
              }}
            />
            <button
              type="button"
              className="plain small"
              aria-label={`Forget ${preset.name}`}
              onClick={() => onRemove(preset.name)}
            >
              ×
            </button>
          </li>
        ))}
      </ul>
      <form
        className="keep-as"
        onSubmit={event => {
          event.preventDefault()
          if (wanted === '') return
          onSave(wanted, effect)
          setName('')
        }}
      >
        <label htmlFor={id}>Keep this one as</label>
        <input id={id} type="text" value={name} onChange={event => setName(event.target.value)} />
        <button type="submit" className="plain small" disabled={wanted === ''}>
          {presets.some(one => one.name === wanted) ? 'Replace' : 'Keep'}
        </button>
      </form>
    </details>
  )
}
