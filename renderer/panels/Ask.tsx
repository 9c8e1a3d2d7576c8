import type { OpenedJob } from '../../core/host/contract.ts'
import type { Question } from '../state/state.ts'
import { Overlay } from './Overlay.tsx'

interface Props {
  readonly question: Question
  readonly upload: boolean
  readonly artName: string | null
  readonly onUnsaved: (answer: 'save' | 'drop' | 'stay') => void
  readonly onPick: (opened: OpenedJob) => void
  readonly onOutside: (opened: OpenedJob) => void
  readonly onUse: (opened: OpenedJob, picked: { id: string; name: string; kind: 'art' | 'job' }) => void
  readonly onLeave: () => void
}

/** The few things only the user can decide. */
export function Ask(props: Props) {
  const { question } = props
  switch (question.kind) {
    case 'unsaved':
      return <Unsaved {...props} />
    case 'art':
      return <ArtAway {...props} opened={question.opened} />
    case 'otherArt':
      return (
        <Overlay title="This is not the same art" kind="ask" onClose={props.onLeave}>
          <p>
            {question.picked.name} differs from the file that {question.opened.file.name} was made with. It
            may be a later version. Roles that were set by hand go to the layers with the same ids, and may
            not fit.
          </p>
          <div className="answers">
            <button type="button" className="solid" onClick={() => props.onPick(question.opened)}>
              Pick another file
            </button>
            <button
              type="button"
              className="plain"
              onClick={() => props.onUse(question.opened, question.picked)}
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
  const named = opened.job.art.path
  const [title, text] =
    art.state === 'missing'
      ? upload
        ? [
            'Now the art',
            `${opened.file.name} was made for ${named}. A page cannot look for it: please pick it.`,
          ]
        : ['The art is not there', `${opened.file.name} needs ${named}, which is not where the job says.`]
      : art.state === 'changed'
        ? [
            'The art has changed',
            `${named} is not the file that ${opened.file.name} was made with. It may be a later version.`,
          ]
        : [
            'The art lies elsewhere',
            `${opened.file.name} wants to read ${named}, outside its own folder. Read it only if you trust the job.`,
          ]
  return (
    <Overlay title={title} kind="ask" onClose={onLeave}>
      <p>{text}</p>
      <div className="answers">
        <button type="button" className="solid" onClick={() => onPick(opened)}>
          Pick the art
        </button>
        {art.state === 'changed' ? (
          <button type="button" className="plain" onClick={() => onUse(opened, art.file)}>
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
