import { useId, useState } from 'react'
import { BadInput } from '../../core/base/finding.ts'
import { plain } from '../../core/effects/plain.ts'

interface Props {
  /** As the job keeps it: a name and heights, or anything else for none. */
  readonly profile: unknown
  readonly onChange: (profile: { readonly name: string; readonly heights: string }) => void
}

/** A soft hill to begin with, until a measured profile is pasted. */
export const firstProfile = { name: '', heights: '0 7 25 50 75 93 100 93 75 50 25 7' }

/** A measured groove: heights of one period, pasted as text, and the shape that they make. */
export function ProfileField({ profile, onChange }: Props) {
  const id = useId()
  const given = (typeof profile === 'object' && profile !== null ? profile : {}) as Record<string, unknown>
  const name = typeof given.name === 'string' ? given.name : ''
  const heights = Array.isArray(given.heights) ? given.heights.join(' ') : String(given.heights ?? '')
  const [draft, setDraft] = useState(heights)
  const read = shapeOf(name, draft)
  return (
    <div className="number profile">
      <label htmlFor={id}>Heights of one period</label>
      <span className="well">
        <textarea
          id={id}
          rows={3}
          spellCheck={false}
          value={draft}
          aria-invalid={read.problem !== null}
          aria-describedby={`${id}-note`}
          onChange={event => change(event.currentTarget.value)}
        />
      </span>
      <p id={`${id}-note`} className={read.problem === null ? 'note' : 'note wrong'}>
        {read.problem ?? 'In any unit, with equal steps across the grooves; the groove depth scales them.'}
      </p>
      {read.heights === null ? null : (
        <svg className="profile-shape" viewBox="0 -0.05 2 1.1" preserveAspectRatio="none" role="img">
          <title>Two periods of the groove</title>
          <polyline points={twice(read.heights)} vectorEffect="non-scaling-stroke" />
        </svg>
      )}
    </div>
  )

  function change(text: string): void {
    setDraft(text)
    if (shapeOf(name, text).problem === null) onChange({ name, heights: text.trim() })
  }
}

/** What the effect makes of the text: heights 0..1, or why not. */
function shapeOf(
  name: string,
  heights: string,
): { readonly heights: readonly number[] | null; readonly problem: string | null } {
  try {
    const frame = { centerXMm: 0, centerYMm: 0, widthMm: 1, heightMm: 1 }
    const { groove } = plain.prepare({ shape: 'sampled', profile: { name, heights } }, frame)
    return { heights: groove.shape === 'sampled' ? groove.heights : null, problem: null }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { heights: null, problem: `${error.problem}. ${error.fix}` }
  }
}

function twice(heights: readonly number[]): string {
  const points = [...heights, ...heights, heights[0]!]
  return points.map((h, i) => `${(i / heights.length).toFixed(4)},${(1 - h).toFixed(4)}`).join(' ')
}
