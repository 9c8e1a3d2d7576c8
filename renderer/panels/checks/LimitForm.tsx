import { useEffect, useId, useRef, useState } from 'react'
import { BadInput } from '../../../core/base/finding.ts'
import { type Limit, type OwnLimit, requireLimit } from '../../../core/checks/limits.ts'
import { SmallForm, WordsLine } from './SmallForm.tsx'

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
    <SmallForm
      does="Judge by it"
      whole={wrong === null && note.trim() !== ''}
      onSend={() => onSet(value, note)}
      onCancel={onCancel}
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
      <WordsLine label="Whose it is" value={note} most={300} onChange={setNote} />
    </SmallForm>
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
