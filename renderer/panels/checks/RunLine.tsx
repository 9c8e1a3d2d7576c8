import type { CheckSums } from '../../../core/checks/run.ts'
import type { CheckRun } from '../../state/state.ts'
import { ProgressBar } from '../ProgressBar.tsx'
import { checkWords } from './words.ts'

interface Props {
  /** Null before the first look. */
  readonly sums: CheckSums | null
  /** The list is of an earlier state of the job. */
  readonly old: boolean
  readonly running: CheckRun | null
  readonly failed: string | null
  readonly onRun: () => void
  readonly onCancel: () => void
}

/** Where the look at the job stands: to be taken, under way, done, or of an earlier state. */
export function RunLine({ sums, old, running, failed, onRun, onCancel }: Props) {
  return (
    <div className="check-run">
      <div role="status">
        {running !== null ? (
          <p>
            <strong>Checking</strong> {/* The bar says it to who listens, when asked. */}
            <span className="quiet" aria-hidden="true">
              {stepWords(running)}
            </span>
          </p>
        ) : sums === null ? (
          <p>Not checked yet.</p>
        ) : (
          <>
            <p>
              <strong>{sumWords(sums)}</strong>
            </p>
            {old ? <p>This is of an earlier state of the job: it was changed since.</p> : null}
          </>
        )}
        {failed === null ? null : <p>No list came of the last run: {failed}</p>}
      </div>
      {running === null ? (
        <button
          type="button"
          className={sums === null || old ? 'solid small' : 'plain small'}
          onClick={onRun}
        >
          {sums === null ? 'Run the checks' : 'Run again'}
        </button>
      ) : (
        <button type="button" className="plain small" onClick={onCancel}>
          Cancel
        </button>
      )}
      {running === null ? null : <ProgressBar label="Checking" done={running.done} />}
    </div>
  )
}

/** `2 must be put right, 5 to look at, 1 to know, 1 waived`; kinds without findings are left out. */
export function sumWords({ fails, warnings, notes, waived }: CheckSums): string {
  const parts = [
    [fails, 'must be put right'],
    [warnings, 'to look at'],
    [notes, 'to know'],
    [waived, 'waived'],
  ] as const
  const said = parts.filter(([count]) => count > 0).map(([count, words]) => `${count} ${words}`)
  return said.length === 0 ? 'Nothing was found.' : said.join(', ')
}

/** Which check it is at, and how far it has come. */
function stepWords({ done, what }: CheckRun): string {
  const [name = '', ...rest] = what.split(', ')
  const title = Object.entries(checkWords).find(([check]) => check === name)?.[1].title
  const step = title === undefined ? what : [title, ...rest].join(', ')
  return [step, done === null ? '' : `${Math.round(100 * done)} %`].filter(part => part !== '').join(' · ')
}
