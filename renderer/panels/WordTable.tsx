import { type FormEvent, useState } from 'react'
import { type RoleName, roleNames } from '../../core/roles/role.ts'
import { Pick } from './Choice.tsx'
import { roleWords } from './words.ts'

interface Props {
  readonly words: readonly { readonly word: string; readonly role: RoleName }[]
  readonly onTeach: (word: string, role: RoleName) => void
  readonly onForget: (word: string) => void
}

const roleOptions = roleNames.map(value => ({ value, title: roleWords[value].title }))

/** Words of the house: a layer whose name has the word gets the role. They come before the built-in ones. */
export function WordTable({ words, onTeach, onForget }: Props) {
  const [word, setWord] = useState('')
  const [role, setRole] = useState<RoleName>('white')
  return (
    <details className="unprinted words">
      <summary>Your words ({words.length})</summary>
      <p className="quiet">A layer, group or channel whose name has the word gets the role.</p>
      {words.length === 0 ? null : (
        <ul>
          {words.map(one => (
            <li key={one.word}>
              <strong>{one.word}</strong>
              <span>{roleWords[one.role].title}</span>
              <button type="button" className="plain small" onClick={() => onForget(one.word)}>
                Forget
              </button>
            </li>
          ))}
        </ul>
      )}
      <form onSubmit={teach}>
        <label className="naming">
          <span className="label">Word</span>
          <span className="well">
            <input value={word} maxLength={60} onChange={event => setWord(event.target.value)} />
          </span>
        </label>
        <Pick label="Means" value={role} options={roleOptions} onChange={setRole} />
        <button type="submit" className="plain small" disabled={word.trim() === ''}>
          Teach
        </button>
      </form>
    </details>
  )

  function teach(event: FormEvent): void {
    event.preventDefault()
    const taught = word.trim()
    if (taught === '') return
    onTeach(taught, role)
    setWord('')
  }
}
