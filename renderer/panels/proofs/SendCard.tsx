import { type ReactNode, useId } from 'react'
import type { Sending } from '../../state/proofs.ts'
import { ProgressBar } from '../ProgressBar.tsx'

interface Props {
  readonly title: string
  readonly gets: string
  readonly does: string
  readonly open: boolean
  readonly sending: Sending
  /** What is missing before it can be made; null where nothing is. */
  readonly lacks: string | null
  readonly onOpen: (open: boolean) => void
  readonly onMake: () => void
  readonly onCancel: () => void
  readonly children: ReactNode
}

/** One thing that can be sent out: what the receiver gets, what goes in, how far it is, and where it went. */
export function SendCard({ title, gets, does, open, sending, lacks, children, ...props }: Props) {
  const id = useId()
  const { running, failed, made } = sending
  return (
    <li className={open ? 'send open' : 'send'}>
      <h4>
        <button
          type="button"
          className="plain send-head"
          aria-expanded={open}
          aria-controls={id}
          onClick={() => props.onOpen(!open)}
        >
          <strong>{title}</strong>
          <span className="quiet">{gets}</span>
        </button>
      </h4>
      <div id={id} hidden={!open} className="send-body">
        {open ? children : null}
        {lacks === null ? null : <p className="quiet">{lacks}</p>}
        <div className="actions">
          {running === null ? (
            <button type="button" className="solid small" disabled={lacks !== null} onClick={props.onMake}>
              {does}
            </button>
          ) : (
            <button type="button" className="plain small" onClick={props.onCancel}>
              Cancel
            </button>
          )}
        </div>
      </div>
      {running === null ? null : (
        <div className="send-run">
          <p className="quiet" aria-hidden="true">
            {[running.what, running.done === null ? '' : `${Math.round(100 * running.done)} %`]
              .filter(Boolean)
              .join(' · ') || 'Begins'}
          </p>
          <ProgressBar label={title} done={running.done} />
        </div>
      )}
      <div role="status" className="send-made">
        {failed === null ? null : <p>Nothing was made: {failed}</p>}
        {made.map(line => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </li>
  )
}
