import { useEffect, useState } from 'react'
import type { Picture } from '../../../core/host/picture.ts'
import { PictureCanvas } from './PictureCanvas.tsx'

interface Props {
  readonly first: Picture
  readonly second: Picture
  readonly firstName: string
  readonly secondName: string
  /** The system asks for less motion: nothing changes by itself. */
  readonly still: boolean
}

/** A picture stays this long, ms: two changes make one flash at most in 2.4 s, where WCAG 2.3.1 allows three a second. */
export const blinkMs = 1200

/** Two pictures in one place, by turns: by hand, or slowly by themselves once that is asked for. */
export function BlinkPair({ first, second, firstName, secondName, still }: Props) {
  const [turned, setTurned] = useState(false)
  const [running, setRunning] = useState(false)
  const runs = running && !still
  useEffect(() => {
    if (!runs) return
    const timer = setInterval(() => setTurned(now => !now), blinkMs)
    return () => clearInterval(timer)
  }, [runs])
  const name = turned ? secondName : firstName
  return (
    <>
      <div className="pair-stack">
        <PictureCanvas picture={turned ? second : first} label={name} />
      </div>
      <div className="pair-acts">
        <strong className="pair-name">{name}</strong>
        <button type="button" className="plain small" onClick={() => setTurned(!turned)}>
          Show the other
        </button>
        {still ? null : (
          <button
            type="button"
            className="plain small"
            aria-pressed={running}
            onClick={() => setRunning(!running)}
          >
            {running ? 'Hold' : 'By turns'}
          </button>
        )}
      </div>
      <p className="quiet">
        {still
          ? 'Your system asks for less motion: the pictures change only when you press.'
          : 'By turns, each stays for 1.2 seconds. Pictures that change by themselves can trouble people with photosensitive epilepsy: look alone first.'}
      </p>
    </>
  )
}
