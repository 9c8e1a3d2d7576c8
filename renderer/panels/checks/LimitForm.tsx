import { useEffect, useId, useRef, useState } from 'react'
import { BadInput } from '../../../core/base/finding.ts'
import { type Limit, type OwnLimit, requireLimit } from '../../../core/checks/limits.ts'

interface Props {
  readonly id: string
  readonly limit: Limit
  readonly own: OwnLimit | null
  readonly onSet: (value: number, note: string) => void
  readonly onCancel: () => void
}

/** A value of the job's own for a limit, with a note of whose it is. */
export function LimitForm({ id, limit, own, onSet, onCancel }: Props) {
  const field = useId()
  const first = useRef<HTMLInputElement>(null)
  const [typed, setTyped] = useState(String(own?.value ?? limit.usual))
  const [note, setNote] = useState(own?.note ?? '')
  useEffect(() => first.current?.select(), [])
  const value = typed.trim() === '' ? Number.NaN : Number(typed.trim().replace(',', '.').replace('−', '-'))
  const wrong = refusal(id, limit, value)
  return (
    <form
      className="waive"
      onSubmit={event => {
        event.preventDefault()
        if (wrong === null && note.trim() !== '') onSet(value, note)
      }}
      onKeyDown={event => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        onCancel()
      }}
    >
      <div className="number">
        <label htmlFor={`${field}-value`}>Value for this job</label>
        <div className="well">
          <input
            id={`${field}-value`}
            ref={first}
            inputMode="decimal"
            autoComplete="off"
            spellCheck={false}
            value={typed}
            aria-invalid={wrong !== null}
            aria-describedby={wrong === null ? undefined : `${field}-wrong`}
            onChange={event => setTyped(event.target.value)}
          />
          {limit.unit === '' ? null : <span className="unit">{limit.unit}</span>}
        </div>
        {wrong === null ? null : (
          <span id={`${field}-wrong`} className="note wrong" role="alert">
            {wrong}
          </span>
        )}
      </div>
      <div className="naming">
        <label className="label" htmlFor={`${field}-note`}>
          Whose it is
        </label>
        <span className="well">
          <input
            id={`${field}-note`}
            value={note}
            maxLength={300}
            required
            onChange={event => setNote(event.target.value)}
          />
        </span>
      </div>
      <div className="actions">
        <button type="submit" className="solid small" disabled={wrong !== null || note.trim() === ''}>
          Judge by it
        </button>
        <button type="button" className="plain small" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  )
}

/** Why the limit cannot have that value; null where it can. */
function refusal(id: string, limit: Limit, value: number): string | null {
  try {
    requireLimit(id, limit, value)
    return null
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    const [least, most] = limit.range
    return `Takes ${least} to ${most}${limit.unit === '' ? '' : ` ${limit.unit}`}`
  }
}
