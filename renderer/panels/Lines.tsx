import type { Message, Work } from '../state/state.ts'
import { shown } from './NumberField.tsx'
import { ProgressBar } from './ProgressBar.tsx'

/** Long work: what it does, how far it is, and a way to stop it. */
export function WorkLine({ work, onStop }: { readonly work: Work; readonly onStop: () => void }) {
  const { done } = work
  const percent = done === null ? '' : `${shown(done * 100, 0)} %`
  // Work of one step has nothing to add to its title.
  const step = work.what.toLowerCase() === work.title.toLowerCase() ? '' : work.what
  return (
    <div className={work.blocks ? 'work blocks' : 'work'} role="status">
      <p>
        <strong>{work.title}</strong>
        <span className="quiet">{[step, percent].filter(Boolean).join(' · ')}</span>
      </p>
      <ProgressBar label={work.title} done={done} />
      <button type="button" className="plain" onClick={onStop}>
        Cancel
      </button>
    </div>
  )
}

/** One calm line: what went wrong and what to do, or what was done. */
export function MessageLine({
  message,
  onClose,
}: {
  readonly message: Message
  readonly onClose: () => void
}) {
  return (
    <div className={`message ${message.tone}`} role={message.tone === 'error' ? 'alert' : 'status'}>
      <p>{message.text}</p>
      <button type="button" className="plain" onClick={onClose}>
        Close
      </button>
    </div>
  )
}
