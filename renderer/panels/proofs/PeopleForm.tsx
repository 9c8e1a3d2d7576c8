import { useState } from 'react'
import {
  roleTerms,
  type Signer,
  type SignerRole,
  signerRoles,
  signoffLimits,
} from '../../../core/proof/signoff.ts'
import { Pick } from '../Choice.tsx'
import { SmallForm, WordsLine } from '../checks/SmallForm.tsx'

interface Props {
  /** Those of the round before, to begin with. */
  readonly known: readonly Signer[]
  /** Who asked last in this window. */
  readonly by: string
  readonly onAsk: (people: readonly Signer[], by: string) => void
  readonly onCancel: () => void
}

const roleOptions = signerRoles.map(value => ({ value, title: roleTerms[value] }))
const nobody: Signer = { name: '', role: 'Obligated' }

/** Who is asked, each in a role. */
export function PeopleForm({ known, by, onAsk, onCancel }: Props) {
  const [rows, setRows] = useState<readonly Signer[]>(
    known.length > 0 ? known.map(({ name, role }) => ({ name, role })) : [nobody],
  )
  const [asker, setAsker] = useState(by)
  const named = rows.map(row => ({ ...row, name: row.name.trim() })).filter(({ name }) => name !== '')
  const twice = new Set(named.map(({ name }) => name)).size < named.length
  const set = (at: number, change: Partial<Signer>): void =>
    setRows(rows.map((row, i) => (i === at ? { ...row, ...change } : row)))
  return (
    <SmallForm
      does="Ask them"
      whole={named.length > 0 && !twice && asker.trim() !== ''}
      onSend={() => onAsk(named, asker.trim())}
      onCancel={onCancel}
    >
      <ul className="people-rows">
        {rows.map((row, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the list while it is typed
          <li key={i}>
            <WordsLine
              label="Name"
              value={row.name}
              most={signoffLimits.name}
              needed={false}
              onChange={name => set(i, { name })}
            />
            <Pick<SignerRole>
              label="Role"
              value={row.role}
              options={roleOptions}
              onChange={role => set(i, { role })}
            />
            <button
              type="button"
              className="plain small"
              aria-label={`Take out ${row.name || `person ${i + 1}`}`}
              disabled={rows.length === 1}
              onClick={() => setRows(rows.filter((_, at) => at !== i))}
            >
              Take out
            </button>
          </li>
        ))}
      </ul>
      <div className="actions">
        <button
          type="button"
          className="plain small"
          disabled={rows.length >= signoffLimits.people}
          onClick={() => setRows([...rows, nobody])}
        >
          One more
        </button>
      </div>
      {twice ? <p role="alert">Two people have the same name: say which is which.</p> : null}
      <WordsLine label="Who asks" value={asker} most={signoffLimits.name} onChange={setAsker} />
      <p className="quiet">
        Whoever must approve has to decide. Whoever has the final say may override them, which ends the round.
        Whoever is asked for information does not count.
      </p>
    </SmallForm>
  )
}
