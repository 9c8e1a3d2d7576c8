import { useEffect, useId, useRef, useState } from 'react'
import type { CheckFinding, Remedy } from '../../../core/checks/finding.ts'
import type { ListedFinding } from '../../../core/checks/run.ts'
import { boxWords, limitWords, numberWords } from '../../../core/export/check-report.ts'
import type { ChecksView } from '../../state/state.ts'
import { WaiveForm } from './WaiveForm.tsx'
import { checkWords } from './words.ts'

interface Props {
  readonly finding: ListedFinding
  /** Its place is shown on the table. */
  readonly shown: boolean
  readonly by: string
  /** It has just come here from another part of the list. */
  readonly moved: boolean
  readonly onView: (view: Partial<ChecksView>) => void
  readonly onShow: (finding: CheckFinding) => void
  readonly onWaive: (key: string, reason: string, by: string) => void
  readonly onUnwaive: (key: string) => void
  /** The focus has followed it. */
  readonly onFollowed: () => void
  readonly onMend: (remedy: Remedy) => void
}

/** One thing that was found: what, where, the number against its limit, and what can be done. */
export function FoundItem({ finding, shown, by, moved, onFollowed, ...props }: Props) {
  const { onView, onShow, onWaive, onUnwaive, onMend } = props
  const { key, check, where, message, fix, box, held, measured, limit, remedy, waiver } = finding
  const [asking, setAsking] = useState(false)
  const id = useId()
  const item = useRef<HTMLLIElement>(null)
  useEffect(() => {
    if (!moved) return
    item.current?.focus()
    onFollowed()
  }, [moved, onFollowed])
  return (
    <li ref={item} tabIndex={-1} aria-current={shown} className={shown ? 'shown' : undefined}>
      <strong id={id}>{where}</strong>
      <p>{message}</p>
      {measured === null && limit === null ? null : (
        <p>
          {measured === null ? null : <b>{numberWords(measured)}</b>}
          {measured !== null && limit !== null ? ' against ' : null}
          {limit === null ? null : <span>a limit of {limitWords(limit)}</span>}
        </p>
      )}
      <p className="quiet">{fix}</p>
      <p className="quiet">
        {[checkWords[check].title, isPlace(where) ? '' : boxWords(finding)].filter(Boolean).join(' · ')}
      </p>
      {waiver === null ? null : (
        <p>
          Waived by {waiver.by}, {waiver.on}: {waiver.reason}
        </p>
      )}
      <div className="actions">
        {box === null ? null : (
          <button
            type="button"
            className="plain small"
            aria-describedby={id}
            aria-pressed={shown}
            title={
              held === null
                ? 'Outlines it on the panel'
                : 'Outlines it, with the panel held where it is worst'
            }
            onClick={() => onShow(finding)}
          >
            {held === null ? 'Show it' : 'Show it at its worst'}
          </button>
        )}
        {remedy === null ? null : (
          <button type="button" className="plain small" aria-describedby={id} onClick={() => onMend(remedy)}>
            {remedy.says}
          </button>
        )}
        {limit === null ? null : (
          <button
            type="button"
            className="plain small"
            aria-describedby={id}
            onClick={() => onView({ section: 'limits', limit: limit.key })}
          >
            Its limit
          </button>
        )}
        {waiver === null ? (
          <button
            type="button"
            className="plain small"
            aria-describedby={id}
            aria-expanded={asking}
            onClick={() => setAsking(!asking)}
          >
            Let it stand…
          </button>
        ) : (
          <button type="button" className="plain small" onClick={() => onUnwaive(key)}>
            Take the waiver back
          </button>
        )}
      </div>
      {asking && waiver === null ? (
        <WaiveForm
          by={by}
          onCancel={() => {
            setAsking(false)
            item.current?.focus()
          }}
          onWaive={(reason, name) => {
            setAsking(false)
            onWaive(key, reason, name)
          }}
        />
      ) : null}
    </li>
  )
}

/** A finding that has no name to go by is called by its place. */
const isPlace = (where: string): boolean => /^x .* mm$/.test(where)
