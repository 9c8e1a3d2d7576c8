import { useRef, useState } from 'react'
import { type Note, noteState } from '../../../core/proof/notes.ts'
import { shortId } from '../../../core/proof/version.ts'
import { NoteForm } from './NoteForm.tsx'
import { momentWords, standsWords } from './words.ts'

interface Props {
  readonly note: Note
  /** What the table calls it. */
  readonly number: number
  /** The table stands for it. */
  readonly shown: boolean
  /** Another note has the same mark and says something else. */
  readonly twice: boolean
  readonly by: string
  readonly onShow: () => void
  readonly onAnswer: (text: string, by: string, state: 'open' | 'settled' | null) => void
}

type Asking = 'answer' | 'settled' | 'open'

/** One note: who said what, where and under which light, the answers, and what can be done. */
export function NoteItem({ note, number, shown, twice, by, onShow, onAnswer }: Props) {
  const [asking, setAsking] = useState<Asking | null>(null)
  const item = useRef<HTMLLIElement>(null)
  const settled = noteState(note) === 'settled'
  const done = (): void => {
    setAsking(null)
    item.current?.focus()
  }
  const classes = [settled ? 'settled' : '', shown ? 'shown' : ''].filter(Boolean).join(' ')
  return (
    <li ref={item} tabIndex={-1} aria-current={shown} className={classes || undefined}>
      <div className="note-head">
        <span className="note-number">
          <span className="unseen">Note </span>
          {number}
        </span>
        <p>
          <strong>{note.author}</strong> <span className="quiet">{momentWords(note.at)}</span>
          {settled ? <em>settled</em> : null}
          {twice ? <em>kept twice</em> : null}
        </p>
      </div>
      <p className="note-text">{note.text}</p>
      <p className="quiet">
        {standsWords(note)}
        {note.of === null ? '' : ` · on version ${shortId(note.of)}`}
      </p>
      {note.answers.length === 0 ? null : (
        <ul className="note-answers" aria-label={`Answers to note ${number}`}>
          {note.answers.map((answer, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: answers are only ever added at the end
            <li key={i}>
              <strong>{answer.author}</strong> <span className="quiet">{momentWords(answer.at)}</span>
              {answer.state === null ? null : (
                <em>{answer.state === 'settled' ? 'settles it' : 'opens it'}</em>
              )}
              {answer.text === '' ? null : <p>{answer.text}</p>}
            </li>
          ))}
        </ul>
      )}
      <div className="actions">
        <button
          type="button"
          className="plain small"
          aria-label={`Show note ${number}`}
          aria-pressed={shown}
          title="Lamp and carton as they stood when it was written"
          onClick={onShow}
        >
          Show it
        </button>
        {act('answer', 'Answer…', `Answer note ${number}`)}
        {settled
          ? act('open', 'Open again…', `Open note ${number} again`)
          : act('settled', 'Settle…', `Settle note ${number}`)}
      </div>
      {asking === null ? null : (
        <NoteForm
          key={asking}
          label={asking === 'answer' ? 'Answer' : 'Answer, if there is one'}
          does={asking === 'answer' ? 'Answer' : asking === 'settled' ? 'Settle it' : 'Open it again'}
          mayBeEmpty={asking !== 'answer'}
          by={by}
          onCancel={done}
          onKeep={(text, name) => {
            done()
            onAnswer(text, name, asking === 'answer' ? null : asking)
          }}
        />
      )}
    </li>
  )

  function act(which: Asking, title: string, label: string) {
    return (
      <button
        type="button"
        className="plain small"
        aria-label={label}
        aria-expanded={asking === which}
        onClick={() => setAsking(asking === which ? null : which)}
      >
        {title}
      </button>
    )
  }
}
