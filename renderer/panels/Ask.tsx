import type { FileRef } from '../../core/host/file-ref.ts'
import type { DraftRef, OpenedJob } from '../../core/host/files.ts'
import type { ArtQuestion, Question } from '../state/state.ts'
import { Overlay } from './Overlay.tsx'
import { when } from './when.ts'

interface Props {
  readonly question: Exclude<Question, ArtQuestion>
  readonly upload: boolean
  readonly artName: string | null
  readonly onUnsaved: (answer: 'save' | 'drop' | 'stay') => void
  readonly onPick: (opened: OpenedJob) => void
  readonly onOutside: (opened: OpenedJob) => void
  readonly onUse: (opened: OpenedJob, picked: FileRef, beside: readonly FileRef[]) => void
  readonly onLeave: () => void
  readonly onDraft: (draft: DraftRef) => void
  readonly onDropDraft: (draft: DraftRef) => void
  readonly onLater: () => void
}

/** The few things only the user can decide. */
export function Ask(props: Props) {
  const { question } = props
  switch (question.kind) {
    case 'drafts':
      return <Drafts {...props} drafts={question.drafts} />
    case 'unsaved':
      return <Unsaved {...props} />
    case 'art':
      return <ArtAway {...props} opened={question.opened} />
    case 'otherArt':
      return (
        <Overlay title="This is not the same art" kind="ask" onClose={props.onLeave}>
          <p>
            {question.picked.name} differs from the file that {question.opened.name} was made with. It may be
            a later version. Roles that were set by hand go to the layers with the same ids, and may not fit.
          </p>
          <div className="answers">
            <button type="button" className="solid" onClick={() => props.onPick(question.opened)}>
              Pick another file
            </button>
            <button
              type="button"
              className="plain"
              onClick={() => props.onUse(question.opened, question.picked, question.beside)}
            >
              Use it all the same
            </button>
            <button type="button" className="plain" onClick={props.onLeave}>
              Leave it
            </button>
          </div>
        </Overlay>
      )
  }
}

function Drafts({ drafts, onDraft, onDropDraft, onLater }: Props & { drafts: readonly DraftRef[] }) {
  const later = (
    <button type="button" className="plain" onClick={onLater}>
      Decide later
    </button>
  )
  return (
    <Overlay title="Work was left unsaved" kind="ask" onClose={onLater}>
      <p>
        rakelight ended before this was saved. It was kept apart from your own files; take it up again and
        save it where you want it.
      </p>
      <ul className="drafts">
        {drafts.map(draft => (
          <li key={draft.id}>
            <p>
              <strong>{draft.name}</strong> <span className="quiet">{when(draft.savedAt)}</span>
            </p>
            <div className="answers">
              <button type="button" className="solid" onClick={() => onDraft(draft)}>
                Take it up again
              </button>
              <button type="button" className="plain" onClick={() => onDropDraft(draft)}>
                Throw it away
              </button>
              {drafts.length === 1 ? later : null}
            </div>
          </li>
        ))}
      </ul>
      {drafts.length === 1 ? null : <div className="answers">{later}</div>}
    </Overlay>
  )
}

function Unsaved({ artName, upload, onUnsaved }: Props) {
  return (
    <Overlay title="Save the job first?" kind="ask" onClose={() => onUnsaved('stay')}>
      <p>What you decided about {artName ?? 'this art'} is not saved yet and would be lost.</p>
      <div className="answers">
        <button type="button" className="solid" onClick={() => onUnsaved('save')}>
          {upload ? 'Save to downloads' : 'Save'}
        </button>
        <button type="button" className="plain" onClick={() => onUnsaved('drop')}>
          Go on without saving
        </button>
        <button type="button" className="plain" onClick={() => onUnsaved('stay')}>
          Stay here
        </button>
      </div>
    </Overlay>
  )
}

function ArtAway({ opened, upload, onPick, onOutside, onUse, onLeave }: Props & { opened: OpenedJob }) {
  const { art } = opened
  const named = opened.job.art?.path ?? 'its art'
  const [title, text] =
    art.state === 'missing'
      ? upload
        ? ['Now the art', `${opened.name} was made for ${named}. A page cannot look for it: please pick it.`]
        : ['The art is not there', `${opened.name} needs ${named}, which is not where the job says.`]
      : art.state === 'changed'
        ? [
            'The art has changed',
            `${named} is not the file that ${opened.name} was made with. It may be a later version.`,
          ]
        : [
            'The art lies elsewhere',
            `${opened.name} wants to read ${named}, outside its own folder. Read it only if you trust the job.`,
          ]
  return (
    <Overlay title={title} kind="ask" onClose={onLeave}>
      <p>{text}</p>
      <div className="answers">
        <button type="button" className="solid" onClick={() => onPick(opened)}>
          Pick the art
        </button>
        {art.state === 'changed' ? (
          <button type="button" className="plain" onClick={() => onUse(opened, art.file, [])}>
            Use the changed file
          </button>
        ) : null}
        {art.state === 'outside' ? (
          <button type="button" className="plain" onClick={() => onOutside(opened)}>
            Read it
          </button>
        ) : null}
        <button type="button" className="plain" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </Overlay>
  )
}
