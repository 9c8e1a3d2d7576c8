import type { CheckName } from '../../../core/checks/finding.ts'
import type { CheckList } from '../../../core/checks/run.ts'
import { checkWords } from './words.ts'

interface Props {
  readonly checks: readonly CheckName[]
  /** Null before the first look. */
  readonly list: CheckList | null
  readonly onFindings: (check: CheckName) => void
}

/** What the checks of a section look at, and how much each found. */
export function SectionNote({ checks, list, onFindings }: Props) {
  return (
    <ul className="section-note">
      {checks.map(check => {
        const count = list?.findings.filter(one => one.check === check).length ?? 0
        return (
          <li key={check}>
            <strong>{checkWords[check].title}</strong>
            <p className="quiet">{checkWords[check].says}</p>
            {list === null ? (
              <p className="quiet">Not checked yet.</p>
            ) : count === 0 ? (
              <p className="quiet">Nothing was found.</p>
            ) : (
              <div className="actions">
                <button type="button" className="plain small" onClick={() => onFindings(check)}>
                  {count === 1 ? 'See what it found' : `See the ${count} that it found`}
                </button>
              </div>
            )}
          </li>
        )
      })}
    </ul>
  )
}
