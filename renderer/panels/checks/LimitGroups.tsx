import type { CheckName } from '../../../core/checks/finding.ts'
import type { Limit, OwnLimits } from '../../../core/checks/limits.ts'
import { LimitRow } from './LimitRow.tsx'
import { checkWords, inOrder } from './words.ts'

interface Props {
  readonly known: Readonly<Partial<Record<CheckName, Readonly<Record<string, Limit>>>>>
  readonly own: OwnLimits
  /** The one that was asked for. */
  readonly asked: string | null
  readonly onSet: (key: string, value: number, note: string) => void
  readonly onUsual: (key: string) => void
}

/** Every limit of every check: what it is for, its value, and whose it is. */
export function LimitGroups({ known, own, asked, onSet, onUsual }: Props) {
  const all = Object.assign({}, ...Object.values(known)) as Readonly<Record<string, Limit>>
  const others = Object.keys(own).filter(key => !Object.hasOwn(all, key))
  return (
    <div className="limits-page">
      <p className="quiet">
        Checks judge by these numbers. Each has a usual value with its source; a plant or a client may have
        another, and the job keeps it with a note of whose it is.
      </p>
      {inOrder(known).map(([check, limits]) => {
        const keys = Object.keys(limits)
        const set = keys.filter(key => own[key] !== undefined).length
        return (
          // One that holds the limit that was asked for opens anew with each wish.
          <details
            key={`${check} ${asked !== null && keys.includes(asked) ? asked : ''}`}
            open={asked !== null && keys.includes(asked)}
          >
            <summary>
              <strong>{checkWords[check].title}</strong>{' '}
              <span className="quiet">
                {keys.length}
                {set === 0 ? '' : `, ${set} of the job’s own`}
              </span>
            </summary>
            <ul>
              {Object.entries(limits).map(([key, limit]) => (
                <LimitRow
                  key={key}
                  limit={limit}
                  id={key}
                  own={own[key] ?? null}
                  asked={asked === key}
                  onSet={(value, note) => onSet(key, value, note)}
                  onUsual={() => onUsual(key)}
                />
              ))}
            </ul>
          </details>
        )
      })}
      {others.length === 0 ? null : (
        <section>
          <h3>Of no check of this version</h3>
          <ul>
            {others.map(key => (
              <li key={key}>
                <p>
                  {key}: {own[key]?.value}, {own[key]?.note}
                </p>
                <div className="actions">
                  <button type="button" className="plain small" onClick={() => onUsual(key)}>
                    Take it out
                  </button>
                </div>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
