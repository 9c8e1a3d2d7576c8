import { useEffect, useRef, useState } from 'react'
import type { Limit, OwnLimit } from '../../../core/checks/limits.ts'
import { numberWords, statusWords } from '../../../core/export/check-report.ts'
import { LimitForm } from './LimitForm.tsx'

interface Props {
  readonly id: string
  readonly limit: Limit
  readonly own: OwnLimit | null
  readonly asked: boolean
  readonly onSet: (value: number, note: string) => void
  readonly onUsual: () => void
}

/** One limit: its value, whose it is, and a value of the job's own. */
export function LimitRow({ id, limit, own, asked, onSet, onUsual }: Props) {
  const { name, says, unit, usual, range, status, source } = limit
  const [asking, setAsking] = useState(false)
  const row = useRef<HTMLLIElement>(null)
  useEffect(() => {
    if (!asked) return
    row.current?.scrollIntoView({ block: 'center' })
    row.current?.focus({ preventScroll: true })
  }, [asked])
  const said = (value: number): string => numberWords({ value, unit })
  const done = (): void => {
    setAsking(false)
    row.current?.focus({ preventScroll: true })
  }
  return (
    <li ref={row} tabIndex={-1} aria-current={asked}>
      <div className="limit-head">
        <div>
          <strong>{capital(name)}</strong>
          <p className="quiet">{sentence(says)}</p>
        </div>
        <p className="limit-value">
          <b>{said(own?.value ?? usual)}</b>
          {own === null ? null : <span className="quiet">usual {said(usual)}</span>}
        </p>
      </div>
      <p className="quiet">
        <em>{own === null ? statusWords[status] : statusWords.own}</em> {sentence(own?.note ?? source)} Takes{' '}
        {said(range[0])} to {said(range[1])}.
      </p>
      {asking ? (
        <LimitForm
          id={id}
          limit={limit}
          own={own}
          onCancel={done}
          onSet={(value, note) => {
            onSet(value, note)
            done()
          }}
        />
      ) : (
        <div className="actions">
          <button
            type="button"
            className="plain small"
            aria-label={`${own === null ? 'Set another' : 'Change'}: ${name}`}
            onClick={() => setAsking(true)}
          >
            {own === null ? 'Set another' : 'Change'}
          </button>
          {own === null ? null : (
            <button
              type="button"
              className="plain small"
              aria-label={`Back to the usual: ${name}`}
              onClick={() => {
                onUsual()
                done()
              }}
            >
              Back to the usual
            </button>
          )}
        </div>
      )}
    </li>
  )
}

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`
const sentence = (text: string): string => `${capital(text)}${/[.!?]$/.test(text) ? '' : '.'}`
