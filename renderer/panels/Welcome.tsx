import { useId, useState } from 'react'
import type { About } from '../../core/host/contract.ts'
import type { RecentRef } from '../../core/host/files.ts'
import { find } from '../state/find.ts'
import { BlankForm, type BlankProps } from './BlankForm.tsx'
import { when } from './when.ts'

interface Props {
  readonly about: About | null
  readonly recent: readonly RecentRef[]
  readonly dragging: boolean
  readonly onOpen: () => void
  /** Opens a folder of one picture a plate. */
  readonly onPlates: () => void
  readonly onDemo: () => void
  /** How a job begins without art. */
  readonly blank: BlankProps
  readonly onRecent: (file: RecentRef) => void
}

/** So many files are looked through by eye. */
const easily = 6

/** The empty table. */
export function Welcome({ about, recent, dragging, onOpen, onPlates, onDemo, blank, onRecent }: Props) {
  const upload = about?.files === 'upload'
  return (
    <main className={dragging ? 'welcome over' : 'welcome'} aria-label="Start">
      <div className="sheet-outline">
        <h2>Lay the art under the light.</h2>
        <p>
          Layered CMYK art with its holography, white and overprint, or a job that was saved before. Drop it
          anywhere, or
        </p>
        <p className="opens">
          <button type="button" className="solid" onClick={onOpen}>
            Open art or a job
          </button>
          <button type="button" className="plain edged" onClick={onPlates}>
            Open a folder of plates
          </button>
        </p>
        <p className="quiet">
          PSD, PSB, PDF, SVG, TIFF, PNG or JPEG; one picture a plate, told by its name; jobs end in .job.json.
          {upload
            ? ' Files stay on this machine: this page hands them to the program that serves it, and jobs are saved to your downloads.'
            : null}
        </p>
        <div className="ways">
          <div>
            <h3>Look first</h3>
            <p>A star chart on foil for a maker of eyepieces: comet, lens rings, white under the type.</p>
            <button type="button" className="plain edged" onClick={onDemo}>
              Look at the demo carton
            </button>
          </div>
          <BlankForm {...blank} />
        </div>
      </div>
      {recent.length === 0 ? null : <Recent recent={recent} onRecent={onRecent} />}
    </main>
  )
}

function Recent({ recent, onRecent }: Pick<Props, 'recent' | 'onRecent'>) {
  const [typed, setTyped] = useState('')
  const id = useId()
  const shown = find(
    typed,
    recent.map(file => ({ ...file, words: file.folder })),
  )
  return (
    <section className="recent" aria-labelledby={id}>
      <h3 id={id}>Lately on the table</h3>
      {recent.length <= easily ? null : (
        <div className="well">
          <input
            type="search"
            aria-label="Find among them"
            placeholder={`Find among ${recent.length}`}
            value={typed}
            onChange={event => setTyped(event.target.value)}
          />
        </div>
      )}
      <ul>
        {shown.map(file => (
          <li key={file.id}>
            <button
              type="button"
              className="plain row"
              title={`${file.name}, in ${file.folder}`}
              onClick={() => onRecent(file)}
            >
              <span>
                {file.name}
                {file.beside.length === 0 ? '' : ` and ${file.beside.length} more`}
              </span>
              <span className="quiet">
                {file.kind === 'job' ? 'job' : 'art'} in {file.folder}
                {file.openedAt === null ? '' : `, ${when(file.openedAt)}`}
              </span>
            </button>
          </li>
        ))}
      </ul>
      {shown.length === 0 ? <p className="quiet">None of them is called that.</p> : null}
    </section>
  )
}
