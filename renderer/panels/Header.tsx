import type { Checks, SignMark, State } from '../state/state.ts'
import { unsaved } from '../state/steps.ts'

interface Props {
  readonly state: State
  readonly findings: number
  readonly questions: number
  readonly onOpen: () => void
  readonly onSave: () => void
  readonly onUndo: () => void
  readonly onRedo: () => void
  readonly onFindings: () => void
  readonly onChecks: () => void
  readonly onProofs: () => void
  readonly onQuestion: () => void
  readonly onAssumed: () => void
  readonly onHelp: () => void
  readonly onBrief: () => void
  readonly onAnything: () => void
  /** Lays the first art on a job that has none. */
  readonly onArt: () => void
}

/** What lies on the table, whether it is safe, and the few things that can always be done. */
export function Header(props: Props) {
  const { state } = props
  const { art, jobFile, history, signed } = state.session
  return (
    <header className="head">
      <h1 className="mark">rakelight</h1>
      {art === null ? (
        <p className="what" />
      ) : (
        <p className="what">
          <strong title={art.file.name}>{art.file.name}</strong>
          <span className="quiet" aria-live="polite">
            {saveState(state)}
            {jobFile === null ? '' : ` · ${jobFile.name}`}
          </span>
        </p>
      )}
      <nav aria-label="Job">
        {props.questions === 0 ? null : (
          <button type="button" className="plain asks" onClick={props.onQuestion}>
            <span className="badge" aria-hidden="true">
              ?
            </span>
            {props.questions === 1 ? '1 question' : `${props.questions} questions`}
          </button>
        )}
        {art === null ? null : (
          <>
            {state.job?.art === null ? (
              <button
                type="button"
                className="plain asks"
                onClick={props.onArt}
                title="Effects and white go to the art's own layers"
              >
                Lay the art
              </button>
            ) : null}
            <button
              type="button"
              className="plain"
              onClick={props.onBrief}
              aria-pressed={state.view.sheet === 'brief'}
              title="What is wanted, in words"
            >
              Brief
            </button>
            <button
              type="button"
              className="plain"
              onClick={props.onFindings}
              aria-pressed={state.view.sheet === 'findings'}
            >
              {props.findings === 0
                ? 'No findings'
                : props.findings === 1
                  ? '1 finding'
                  : `${props.findings} findings`}
            </button>
            <button
              type="button"
              className="plain"
              onClick={props.onChecks}
              aria-pressed={state.view.sheet === 'checks'}
              title="What will go wrong on foil (F)"
            >
              {checksWords(state.session.checks)}
            </button>
            <button
              type="button"
              className="plain"
              onClick={props.onProofs}
              aria-pressed={state.view.sheet === 'proofs'}
              title="What others see and sign (P)"
            >
              Proofs
              {signed === null ? null : (
                <em className={signed === 'stands' ? 'signed' : 'signed off'}>{signedWords[signed]}</em>
              )}
            </button>
            <button
              type="button"
              className="plain"
              onClick={props.onAssumed}
              aria-pressed={state.view.sheet === 'assumed'}
              title="Numbers that nobody has measured yet"
            >
              Assumed
            </button>
            <span className="gap" />
            <button
              type="button"
              className="plain"
              onClick={props.onUndo}
              disabled={history.past.length === 0}
              title="Undo (Ctrl Z)"
            >
              Undo
            </button>
            <button
              type="button"
              className="plain"
              onClick={props.onRedo}
              disabled={history.future.length === 0}
              title="Redo (Shift Ctrl Z)"
            >
              Redo
            </button>
            <span className="gap" />
            <button type="button" className="plain" onClick={props.onSave} title="Save the job (Ctrl S)">
              Save
            </button>
          </>
        )}
        <button type="button" className="plain" onClick={props.onOpen} title="Open art or a job (Ctrl O)">
          Open
        </button>
        <button
          type="button"
          className="plain"
          onClick={props.onAnything}
          aria-pressed={state.view.sheet === 'anything'}
          title="Everything that can be done, by name (F2)"
        >
          Do anything
        </button>
        <button
          type="button"
          className="plain"
          onClick={props.onHelp}
          aria-pressed={state.view.sheet === 'help'}
          title="Help (F1)"
        >
          Help
        </button>
      </nav>
    </header>
  )
}

const signedWords: Readonly<Record<SignMark, string>> = {
  stands: 'signed',
  superseded: 'superseded',
  broken: 'record changed',
}

function checksWords({ running }: Checks): string {
  if (running === null) return 'Checks'
  return running.done === null ? 'Checking' : `Checking ${Math.round(100 * running.done)} %`
}

function saveState(state: State): string {
  if (unsaved(state)) return 'Changes not saved'
  return state.session.jobFile === null ? 'No job saved yet' : 'Saved'
}
