import type { CheckRun } from '../../../state/state.ts'
import { ProgressBar } from '../../ProgressBar.tsx'

interface Props {
  /** What the button does, such as `Find what shows`. */
  readonly ask: string
  readonly made: { readonly running: CheckRun | null; readonly failed: string | null }
  /** There is a picture already. */
  readonly there: boolean
  /** It is of an earlier state of the job. */
  readonly old: boolean
  readonly onAsk: () => void
  readonly onStop: () => void
}

/** Asks for a picture that takes a while, shows how far it is, and says when the job has changed since. */
export function AskLine({ ask, made, there, old, onAsk, onStop }: Props) {
  const { running, failed } = made
  if (there && !old && running === null && failed === null) return null
  return (
    <div className="check-run">
      <div role="status">
        {running !== null ? (
          <p className="quiet">
            {[running.what, running.done === null ? '' : `${Math.round(100 * running.done)} %`]
              .filter(part => part !== '')
              .join(' · ') || 'Working'}
          </p>
        ) : failed !== null ? (
          <p>That came to nothing: {failed}</p>
        ) : there ? (
          <p>This is of an earlier state of the job: it was changed since.</p>
        ) : null}
      </div>
      {running === null ? (
        <button type="button" className="solid small" onClick={onAsk}>
          {there ? 'Look again' : ask}
        </button>
      ) : (
        <button type="button" className="plain small" onClick={onStop}>
          Cancel
        </button>
      )}
      {running === null ? null : <ProgressBar label={ask} done={running.done} />}
    </div>
  )
}
