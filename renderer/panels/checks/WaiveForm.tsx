import { useEffect, useId, useRef, useState } from 'react'

interface Props {
  /** Who waived last. */
  readonly by: string
  readonly onWaive: (reason: string, by: string) => void
  readonly onCancel: () => void
}

/** Why a finding may stand, and whose word that is. */
export function WaiveForm({ by, onWaive, onCancel }: Props) {
  const id = useId()
  const first = useRef<HTMLInputElement>(null)
  const [reason, setReason] = useState('')
  const [name, setName] = useState(by)
  useEffect(() => first.current?.focus(), [])
  const whole = reason.trim() !== '' && name.trim() !== ''
  return (
    <form
      className="waive"
      onSubmit={event => {
        event.preventDefault()
        if (whole) onWaive(reason, name)
      }}
      onKeyDown={event => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        onCancel()
      }}
    >
      <div className="naming">
        <label className="label" htmlFor={`${id}-reason`}>
          Why it may stand
        </label>
        <span className="well">
          <input
            id={`${id}-reason`}
            ref={first}
            value={reason}
            maxLength={500}
            required
            onChange={event => setReason(event.target.value)}
          />
        </span>
      </div>
      <div className="naming">
        <label className="label" htmlFor={`${id}-by`}>
          Who says so
        </label>
        <span className="well">
          <input
            id={`${id}-by`}
            value={name}
            maxLength={100}
            required
            onChange={event => setName(event.target.value)}
          />
        </span>
      </div>
      <div className="actions">
        <button type="submit" className="solid small" disabled={!whole}>
          Let it stand
        </button>
        <button type="button" className="plain small" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  )
}
