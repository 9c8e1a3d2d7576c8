import { useId, useState } from 'react'
import { effectKinds, knownKind } from '../../../core/effects/kinds.ts'
import { SwatchView } from './SwatchView.tsx'

interface Props {
  readonly kind: string
  readonly onChange: (kind: string) => void
}

/** The kind of holography: what it is now, and all others as pieces of foil once they are asked for. */
export function KindGallery({ kind, onChange }: Props) {
  const name = useId()
  const [open, setOpen] = useState(false)
  const known = knownKind(kind)
  return (
    <div className="kinds">
      <button
        type="button"
        className="kind-now"
        aria-expanded={open}
        aria-label={`Effect: ${known?.title ?? kind}. ${open ? 'Close' : 'Choose another'}`}
        onClick={() => setOpen(!open)}
      >
        {known === undefined ? (
          <span className="foil-piece" aria-hidden="true" />
        ) : (
          <SwatchView kind={kind} />
        )}
        <span className="kind-words">
          <strong>{known?.title ?? `“${kind}”`}</strong>
          <span className="quiet">{open ? 'Close the list' : 'Choose another…'}</span>
        </span>
      </button>
      {open ? (
        <fieldset className="kind-list">
          <legend className="unseen">Effect</legend>
          {effectKinds.map(one => (
            <label key={one.name} title={one.says}>
              <input
                type="radio"
                name={name}
                checked={one.name === kind}
                onChange={() => onChange(one.name)}
              />
              <SwatchView kind={one.name} />
              <span className="kind-title">{one.title}</span>
            </label>
          ))}
        </fieldset>
      ) : null}
    </div>
  )
}
