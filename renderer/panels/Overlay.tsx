import { type ReactNode, useEffect, useId, useRef } from 'react'

interface Props {
  readonly title: string
  /** `side` lies beside the panel, so that it stays in sight; `ask` waits for an answer. */
  readonly kind: 'side' | 'ask'
  readonly children: ReactNode
  readonly onClose: () => void
}

/** A sheet over the table: a dialog with a title, closed by Escape. */
export function Overlay({ title, kind, children, onClose }: Props) {
  const dialog = useRef<HTMLDialogElement>(null)
  const id = useId()
  useEffect(() => {
    const shown = dialog.current
    if (shown === null) return
    if (kind === 'ask') shown.showModal()
    else shown.show()
    return () => shown.close()
  }, [kind])
  return (
    <dialog
      ref={dialog}
      className={kind}
      aria-labelledby={id}
      onCancel={event => {
        event.preventDefault()
        onClose()
      }}
    >
      <div className="overlay-head">
        <h2 id={id}>{title}</h2>
        {kind === 'side' ? (
          <button type="button" className="plain" onClick={onClose}>
            Close
          </button>
        ) : null}
      </div>
      {children}
    </dialog>
  )
}
