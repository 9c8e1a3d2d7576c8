import { type KeyboardEvent, useId, useState } from 'react'
import { within } from '../stage/angles.ts'

interface Props {
  readonly label: string
  readonly value: number
  readonly unit?: string
  readonly min: number
  readonly max: number
  readonly step: number
  /** Digits after the point. */
  readonly digits?: number
  /** What the number means, for who points at its name. */
  readonly says?: string | undefined
  /** Said beside the unit, such as the same value in other terms. */
  readonly aside?: string
  /** Nobody has confirmed the value yet. */
  readonly assumed?: boolean
  readonly onChange: (value: number) => void
  /** The run of key presses has ended. */
  readonly onSettle?: () => void
}

/** A number with its unit: typed, or stepped with the arrow keys (with Shift by ten). */
export function NumberField({
  label,
  value,
  unit,
  min,
  max,
  step,
  digits = 0,
  says,
  aside,
  assumed,
  onChange,
  onSettle,
}: Props) {
  const id = useId()
  const [draft, setDraft] = useState<string | null>(null)
  const typed = draft === null ? value : parse(draft)
  const wrong = draft !== null && (!Number.isFinite(typed) || typed < min || typed > max)
  return (
    <div className={assumed ? 'number assumed' : 'number'}>
      <label htmlFor={id} title={says}>
        {label}
      </label>
      <div className="well">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          spellCheck={false}
          title={says}
          value={draft ?? shown(value, digits)}
          aria-invalid={wrong}
          aria-describedby={wrong || aside !== undefined || assumed ? `${id}-note` : undefined}
          onChange={event => setDraft(event.target.value)}
          onFocus={event => event.target.select()}
          onBlur={commit}
          onKeyDown={keyed}
        />
        {unit === undefined ? null : <span className="unit">{unit}</span>}
      </div>
      {wrong ? (
        <span id={`${id}-note`} className="note wrong" role="alert">
          {shown(min, digits)} to {shown(max, digits)}
        </span>
      ) : aside === undefined && !assumed ? null : (
        <span id={`${id}-note`} className="note">
          {aside}
          {assumed ? <em>assumed</em> : null}
        </span>
      )}
    </div>
  )

  function commit(): void {
    if (draft !== null && !wrong && typed !== value) onChange(typed)
    setDraft(null)
    onSettle?.()
  }

  function keyed(event: KeyboardEvent): void {
    const direction = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0
    if (direction !== 0) {
      event.preventDefault()
      const from = wrong ? value : typed
      const by = direction * step * (event.shiftKey ? 10 : 1)
      setDraft(null)
      onChange(within(round(from + by, Math.max(digits, 6)), min, max))
    } else if (event.key === 'Enter') commit()
    else if (event.key === 'Escape' && draft !== null) {
      event.stopPropagation()
      setDraft(null)
    }
  }
}

/** Both decimal signs are read. */
const parse = (text: string): number => {
  const plain = text.trim().replace(',', '.').replace('−', '-')
  return plain === '' ? Number.NaN : Number(plain)
}

/** With a real minus sign, and no sign on a rounded zero. */
export const shown = (value: number, digits: number): string => {
  const text = value.toFixed(digits)
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−')
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits))
