import { useEffect, useState } from 'react'
import { conflicts } from '../../../core/proof/merge-notes.ts'
import { type Note, noteState } from '../../../core/proof/notes.ts'
import { Choice } from '../../panels/Choice.tsx'
import { NoJob } from '../../panels/proofs/NoJob.tsx'
import { NoteForm } from '../../panels/proofs/NoteForm.tsx'
import { NoteItem } from '../../panels/proofs/NoteItem.tsx'
import { takenInWords } from '../../panels/proofs/words.ts'
import { leaveNote, noteHere, noteKey, noteSums, showNote } from '../../state/notes.ts'
import { jobFileId, keepNote, loadNotes, takeInNotes } from '../../state/proof-files.ts'
import { lookAtProofs, proofsOf } from '../../state/proofs.ts'
import { save } from '../../state/save.ts'
import { inView } from '../../state/state.ts'
import { useStore } from '../../state/store.ts'
import type { SectionProps } from './props.ts'

const shares = { all: 'All', open: 'Open', settled: 'Settled' } as const

/** Notes on the carton joined to the state: put one, find one, answer it, take in those that came back. */
export function NotesSection({ desk, state }: SectionProps) {
  const { store } = desk
  const { notes: file, takenIn, failed, by } = useStore(proofsOf(store), all => all)
  const { placing, note: shown } = state.view.proofs
  const [share, setShare] = useState<keyof typeof shares>('all')
  const id = jobFileId(state)
  // biome-ignore lint/correctness/useExhaustiveDependencies: read again for another job
  useEffect(() => void loadNotes(desk), [id])
  if (id === null) return <NoJob what="Notes" onSave={() => void save(desk)} />
  const notes = file?.notes ?? []
  const sums = noteSums({ notes })
  const twice = conflicts(notes)
  const listed = notes
    .map((note, i) => ({ note, number: i + 1, key: file === null ? '' : noteKey(file, i) }))
    .filter(({ note }) => share === 'all' || noteState(note) === share)
  return (
    <>
      <div className="actions">
        <button
          type="button"
          className="solid small"
          onClick={() =>
            store.set(now => inView(lookAtProofs(now, { placing: 'asked' }), { sheet: null, spot: null }))
          }
        >
          Put a note on the carton
        </button>
        <button type="button" className="plain small" onClick={() => void takeInNotes(desk)}>
          Take in returned notes…
        </button>
      </div>
      {placing === null || placing === 'asked' ? null : (
        <NoteForm
          label={`New note at ${placing.xMm.toFixed(1)}, ${placing.yMm.toFixed(1)} mm`}
          does="Keep the note"
          mayBeEmpty={false}
          by={by}
          onCancel={() => store.set(now => lookAtProofs(now, { placing: null }))}
          onKeep={(text, author) => {
            const note = noteHere(store.get(), placing, {
              id: crypto.randomUUID(),
              author,
              at: moment(),
              text,
            })
            store.set(now => lookAtProofs(now, { placing: null }))
            if (note !== null) void keep(note, author)
          }}
        />
      )}
      <div role="status">
        {takenIn === null ? null : <p className="boxed">{takenInWords(takenIn, twice.size)}</p>}
        {failed.notes === null ? null : <p className="boxed">{failed.notes}</p>}
      </div>
      {notes.length === 0 ? (
        file === null ? null : (
          <p>
            No notes yet. A note stays with its place, and with the lamp and the tilt it was seen under:
            whoever opens it sees the same. Notes that clients put on a one-file proof come back as a small
            file.
          </p>
        )
      ) : (
        <>
          <Choice
            label="Notes"
            value={share}
            options={(['all', 'open', 'settled'] as const).map(value => ({
              value,
              title: `${shares[value]} ${value === 'all' ? notes.length : sums[value]}`,
            }))}
            onChange={setShare}
          />
          <ul className="notes">
            {listed.map(({ note, number, key }) => (
              <NoteItem
                key={key}
                note={note}
                number={number}
                shown={shown?.id === key}
                twice={twice.has(note.id)}
                by={by}
                onShow={() =>
                  store.set(now => (shown?.id === key ? leaveNote(now) : showNote(now, key, note)))
                }
                onAnswer={(text, author, next) =>
                  void keep(
                    { ...note, answers: [...note.answers, { author, at: moment(), text, state: next }] },
                    author,
                  )
                }
              />
            ))}
          </ul>
        </>
      )}
    </>
  )

  function keep(note: Note, author: string): Promise<boolean> {
    proofsOf(store).set(now => ({ ...now, by: author }))
    return keepNote(desk, note)
  }
}

const moment = (): string => new Date().toISOString()
