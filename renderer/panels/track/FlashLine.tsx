import type { FlashStretch } from '../../../core/reference/flash.ts'
import { shown } from '../NumberField.tsx'

/** What is known of a run's flashes. */
export type FlashVerdict =
  | { readonly state: 'unknown' }
  | { readonly state: 'judging'; readonly done: number; readonly damping: boolean }
  | { readonly state: 'judged'; readonly stretches: readonly FlashStretch[] }

interface Props {
  readonly verdict: FlashVerdict
  readonly onJudge: () => void
  readonly onDamp: () => void
  readonly onStop: () => void
}

/** Whether a run flashes more than WCAG 2.3.1 allows: when, and a way to slow it down there. */
export function FlashLine({ verdict, onJudge, onDamp, onStop }: Props) {
  switch (verdict.state) {
    case 'unknown':
      return (
        <p className="flash-line">
          <button
            type="button"
            className="plain small"
            title="More than three flashes a second over a quarter of the view are too many (WCAG 2.3.1)"
            onClick={onJudge}
          >
            Count its flashes
          </button>
        </p>
      )
    case 'judging':
      return (
        <p className="flash-line" role="status">
          <span>
            {verdict.damping ? 'Slowing what flashes' : 'Counting flashes'}, {shown(100 * verdict.done, 0)} %
          </span>
          <button type="button" className="plain small" onClick={onStop}>
            Stop
          </button>
        </p>
      )
    case 'judged':
      return verdict.stretches.length === 0 ? (
        <p className="flash-line" role="status">
          <span title="At its own speed, by WCAG 2.3.1: no more than three flashes in any second">
            Flashes: within bounds
          </span>
        </p>
      ) : (
        <p className="flash-line warns" role="alert">
          <span className="badge" aria-hidden="true">
            !
          </span>
          <span>{flashWarning(verdict.stretches)}</span>
          <button
            type="button"
            className="plain small"
            title="Slows and softens the run there until it passes WCAG 2.3.1"
            onClick={onDamp}
          >
            Damp it
          </button>
        </p>
      )
  }
}

/** When it flashes too often, and whether in red. */
export function flashWarning(stretches: readonly FlashStretch[]): string {
  const when = stretches
    .slice(0, 3)
    .map(one => `${shown(one.fromS, 1)}–${shown(one.toS, 1)} s`)
    .join(', ')
  const more = stretches.length > 3 ? ` and ${stretches.length - 3} more` : ''
  const kind = stretches.some(one => one.kind === 'red')
    ? 'Flashes too often, also in red'
    : 'Flashes too often'
  return `${kind}: ${when}${more}`
}
