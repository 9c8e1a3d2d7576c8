import { useState } from 'react'
import type { Picture } from '../../../core/host/picture.ts'
import { PictureCanvas } from './PictureCanvas.tsx'

interface Props {
  readonly first: Picture
  readonly second: Picture
  readonly firstName: string
  readonly secondName: string
}

/** Two pictures on one another: the first as far as a bar that is drawn by hand or moved by arrow keys, the second behind it. */
export function WipePair({ first, second, firstName, secondName }: Props) {
  const [at, setAt] = useState(50)
  return (
    <div className="pair-stack">
      <PictureCanvas picture={second} label={secondName} />
      <div className="pair-over" style={{ clipPath: `inset(0 ${100 - at}% 0 0)` }}>
        <PictureCanvas picture={first} label={firstName} />
      </div>
      <input
        type="range"
        className="pair-reach"
        min={0}
        max={100}
        step={0.5}
        value={at}
        aria-label={`Bar between ${firstName} and ${secondName}`}
        aria-valuetext={`${Math.round(at)} % shows ${firstName}`}
        onChange={event => setAt(Number(event.target.value))}
      />
      <span className="pair-bar" style={{ left: `${at}%` }} aria-hidden="true" />
    </div>
  )
}
