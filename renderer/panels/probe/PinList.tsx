import type { Pin } from '../../../core/job/job.ts'
import { NameInput } from '../NameInput.tsx'
import { shown } from '../NumberField.tsx'

interface Props {
  readonly pins: readonly Pin[]
  /** The one that the spot is on. */
  readonly at: number | null
  readonly onGo: (pin: Pin) => void
  readonly onRename: (index: number, name: string) => void
  readonly onRemove: (index: number) => void
}

/** Spots that the job keeps. */
export function PinList({ pins, at, onGo, onRename, onRemove }: Props) {
  return (
    <section className="pins" aria-label="Pins">
      <h3>Pins</h3>
      {pins.length === 0 ? (
        <p className="quiet">A pin keeps a spot in the job, to come back to after a change.</p>
      ) : (
        <ul>
          {pins.map((pin, i) => (
            <li key={pin.name} className={i === at ? 'here' : undefined}>
              <NameInput
                name={pin.name}
                taken={pins.filter(one => one !== pin).map(one => one.name)}
                onRename={name => onRename(i, name)}
              />
              <span className="quiet">
                {shown(pin.xMm, 1)}, {shown(pin.yMm, 1)} mm
              </span>
              <button
                type="button"
                className="plain small"
                aria-label={`Go to ${pin.name}`}
                onClick={() => onGo(pin)}
              >
                Go
              </button>
              <button
                type="button"
                className="plain small"
                aria-label={`Remove ${pin.name}`}
                onClick={() => onRemove(i)}
              >
                Remove
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
