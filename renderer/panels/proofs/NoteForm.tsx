import { useEffect, useId, useRef, useState } from 'react'
import { noteLimits } from '../../../core/proof/notes.ts'
import { SmallForm, WordsLine } from '../checks/SmallForm.tsx'

interface Props {
  /** What is asked for: the note, or an answer to one. */
  readonly label: string
  /** What the button says that keeps it. */
  readonly does: string
  /** An answer that settles a note needs no words. */
  readonly mayBeEmpty: boolean
  /** Who wrote last on this machine. */
  readonly by: string
  readonly onKeep: (text: string, by: string) => void
  readonly onCancel: () => void
}

/** Words of a note or of an answer, and whose they are. */
export function NoteForm({ label, does, mayBeEmpty, by, onKeep, onCancel }: Props) {
  const id = useId()
  const first = useRef<HTMLTextAreaElement>(null)
  const [text, setText] = useState('')
  const [name, setName] = useState(by)
  useEffect(() => first.current?.focus(), [])
  const whole = (mayBeEmpty || text.trim() !== '') && name.trim() !== ''
  return (
    <SmallForm does={does} whole={whole} onSend={() => onKeep(text.trim(), name.trim())} onCancel={onCancel}>
      <div className="naming">
        <label className="label" htmlFor={id}>
          {label}
        </label>
        <textarea
          id={id}
          ref={first}
          className="words"
          rows={3}
          maxLength={noteLimits.text}
          value={text}
          required={!mayBeEmpty}
          onChange={event => setText(event.target.value)}
        />
      </div>
      <WordsLine label="Who says so" value={name} most={noteLimits.author} onChange={setName} />
    </SmallForm>
  )
}
