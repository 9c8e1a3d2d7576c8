import { useState } from 'react'

interface Props {
  readonly name: string
  /** Names that others have. */
  readonly taken: readonly string[]
  readonly onRename: (name: string) => void
}

/** A name that is typed over: kept by Enter or on leaving, unless it is empty or another's; Escape brings the old one back. */
export function NameInput({ name, taken, onRename }: Props) {
  const [draft, setDraft] = useState<string | null>(null)
  const next = (draft ?? name).trim()
  const wrong = next === '' || taken.includes(next)
  return (
    <span className="well">
      <input
        value={draft ?? name}
        maxLength={60}
        aria-label={`Name of ${name}`}
        aria-invalid={wrong}
        onChange={event => setDraft(event.target.value)}
        onBlur={keep}
        onKeyDown={event => {
          if (event.key === 'Enter') keep()
          else if (event.key === 'Escape' && draft !== null) {
            event.stopPropagation()
            setDraft(null)
          }
        }}
      />
    </span>
  )

  function keep(): void {
    if (!wrong && next !== name) onRename(next)
    setDraft(null)
  }
}
