import { useId, useState } from 'react'
import type { About, FileRef, RecentRef } from '../../core/host/contract.ts'
import { find } from '../state/find.ts'
import { NumberField } from './NumberField.tsx'
import { when } from './when.ts'

interface Props {
  readonly about: About | null
  readonly recent: readonly RecentRef[]
  readonly dragging: boolean
  readonly onOpen: () => void
  readonly onDemo: () => void
  /** A job without art, for a flat panel of that size, mm. */
  readonly onBlank: (widthMm: number, heightMm: number) => void
  readonly onRecent: (file: FileRef) => void
}

/** So many files are looked through by eye. */
const easily = 6

/** The empty table. */
export function Welcome({ about, recent, dragging, onOpen, onDemo, onBlank, onRecent }: Props) {
  const upload = about?.files === 'upload'
  return (
    <main className={dragging ? 'welcome over' : 'welcome'} aria-label="Start">
      <div className="sheet-outline">
        <h2>Lay the art under the light.</h2>
        <p>
          Layered CMYK art with its holography, white and overprint, or a job that was saved before. Drop it
          anywhere, or
        </p>
        <button type="button" className="solid" onClick={onOpen}>
          Open art or a job
        </button>
        <p className="quiet">
          PSD or PSB; jobs end in .job.json.
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
          <BlankForm onBlank={onBlank} />
        </div>
      </div>
      {recent.length === 0 ? null : <Recent recent={recent} onRecent={onRecent} />}
    </main>
  )
}

/** Where a job begins that has no art yet. */
function BlankForm({ onBlank }: Pick<Props, 'onBlank'>) {
  const [width, setWidth] = useState(60)
  const [height, setHeight] = useState(90)
  return (
    <div>
      <h3>No art yet</h3>
      <p>Choose effects and white on a blank panel; the art comes later.</p>
      <div className="sizes">
        <NumberField label="Width" unit="mm" value={width} min={5} max={1500} step={1} onChange={setWidth} />
        <NumberField
          label="Height"
          unit="mm"
          value={height}
          min={5}
          max={1500}
          step={1}
          onChange={setHeight}
        />
      </div>
      <button type="button" className="plain edged" onClick={() => onBlank(width, height)}>
        Begin without art
      </button>
    </div>
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
            <button type="button" className="plain row" onClick={() => onRecent(file)}>
              <span>{file.name}</span>
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
