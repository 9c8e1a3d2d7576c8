import { type ReactNode, type Ref, useId } from 'react'

interface Props {
  /** What the button says that sends it. */
  readonly does: string
  /** Whether all is there that it needs. */
  readonly whole: boolean
  readonly onSend: () => void
  readonly onCancel: () => void
  readonly children: ReactNode
}

/** A question asked in its place in a list; Escape leaves it and nothing else. */
export function SmallForm({ does, whole, onSend, onCancel, children }: Props) {
  return (
    <form
      className="waive"
      onSubmit={event => {
        event.preventDefault()
        if (whole) onSend()
      }}
      onKeyDown={event => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        onCancel()
      }}
    >
      {children}
      <div className="actions">
        <button type="submit" className="solid small" disabled={!whole}>
          {does}
        </button>
        <button type="button" className="plain small" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  )
}

interface WordsProps {
  readonly label: string
  readonly value: string
  readonly most: number
  readonly field?: Ref<HTMLInputElement>
  /** It has to be filled, unless said otherwise. */
  readonly needed?: boolean
  readonly onChange: (value: string) => void
}

/** A line of words. */
export function WordsLine({ label, value, most, field, needed = true, onChange }: WordsProps) {
  const id = useId()
  return (
    <div className="naming">
      <label className="label" htmlFor={id}>
        {label}
      </label>
      <span className="well">
        <input
          id={id}
          ref={field}
          value={value}
          maxLength={most}
          required={needed}
          onChange={event => onChange(event.target.value)}
        />
      </span>
    </div>
  )
}
