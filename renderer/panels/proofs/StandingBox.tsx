import { costWords } from '../../../core/proof/cost.ts'
import type { Broken } from '../../../core/proof/read-signoff.ts'
import type { Round } from '../../../core/proof/round.ts'
import { decisionWords } from '../../../core/proof/signoff.ts'
import type { SignoffStanding } from '../../../core/proof/standing.ts'
import { shortId } from '../../../core/proof/version.ts'

interface Props {
  /** Id of the version that was signed. */
  readonly of: string
  readonly round: Round
  /** Null where the record cannot be trusted. */
  readonly standing: SignoffStanding | null
  /** Places where the record is not as it was written. */
  readonly broken: readonly Broken[]
}

/** Whether what was signed is still what lies on the table, and what an edit would cost by now. */
export function StandingBox({ of, round, standing, broken }: Props) {
  const outcome = outcomeWords(round)
  const decided = round.people.some(one => one.said !== null)
  if (broken.length > 0 || standing === null)
    return (
      <div className="standing off" role="status">
        <strong>Changed after it was written</strong>
        <p>
          This record cannot be relied on. Ask whoever keeps it for an earlier copy, or begin a new round.
        </p>
        <ul>
          {broken.map(({ where, message }) => (
            <li key={`${where} ${message}`}>
              {where} {message}
            </li>
          ))}
        </ul>
      </div>
    )
  if (standing.kind === 'stands')
    return (
      <div className="standing" role="status">
        <strong>{outcome}</strong>
        <p>
          {decided ? 'It stands: nothing' : 'Nothing'} was changed since version <code>{shortId(of)}</code>.
        </p>
      </div>
    )
  const { changes, cost } = standing
  return (
    <div className="standing off" role="status">
      <strong>Superseded</strong>
      <p>
        {decided ? `“${outcome}” was said` : 'People were asked'} of version <code>{shortId(of)}</code>. The
        job was changed since, so it no longer speaks of what lies on the table.
      </p>
      <p>
        Once released, these edits cost: <b>{costWords(cost)}</b>.
      </p>
      <details>
        <summary>{changes.length === 1 ? 'What was changed' : `The ${changes.length} changes`}</summary>
        <ul>
          {changes.map(({ words, cost: each, why }) => (
            <li key={words}>
              {words}
              <span>
                Costs {costWords(each)}: {why}.
              </span>
            </li>
          ))}
        </ul>
      </details>
    </div>
  )
}

/** What a round has come to, in words. */
export function outcomeWords({ people, state }: Round): string {
  switch (state.kind) {
    case 'decided':
      return decisionWords[state.decision]
    case 'ended':
      return `${decisionWords[state.decision]}, by ${state.by}, who has the final say`
    case 'open':
      return people.length === 0
        ? 'Nobody was asked yet'
        : state.waiting.length === 0
          ? 'Nobody who must approve was asked'
          : `Waits for ${state.waiting.join(', ')}`
  }
}
