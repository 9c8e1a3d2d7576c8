import type { About, FileRef } from '../../core/host/contract.ts'

interface Props {
  readonly about: About | null
  readonly recent: readonly FileRef[]
  readonly dragging: boolean
  readonly onOpen: () => void
  readonly onRecent: (file: FileRef) => void
}

/** The empty table. */
export function Welcome({ about, recent, dragging, onOpen, onRecent }: Props) {
  const upload = about?.files === 'upload'
  return (
    <section className={dragging ? 'welcome over' : 'welcome'} aria-label="Start">
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
      </div>
      {recent.length === 0 ? null : (
        <div className="recent">
          <h3>Lately on the table</h3>
          <ul>
            {recent.map(file => (
              <li key={file.id}>
                <button type="button" className="plain row" onClick={() => onRecent(file)}>
                  <span>{file.name}</span>
                  <span className="quiet">{file.kind === 'job' ? 'job' : 'art'}</span>
                </button>
              </li>
            ))}
          </ul>
        </div>
      )}
    </section>
  )
}
