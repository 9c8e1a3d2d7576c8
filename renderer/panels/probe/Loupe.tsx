import { type KeyboardEvent, useState } from 'react'
import { Pick } from '../Choice.tsx'
import { shown } from '../NumberField.tsx'
import type { LoupeView } from './types.ts'

interface Props {
  readonly view: LoupeView | null
  /** Moves the spot by so many pixels, right and up. */
  readonly onMove: (right: number, up: number) => void
}

/** The map's own pixels around the spot, one plane at a time; arrows go from pixel to pixel. */
export function Loupe({ view, onMove }: Props) {
  const [name, setName] = useState('Seen now')
  const [over, setOver] = useState<number | null>(null)
  if (view === null) return null
  const { side } = view
  const middle = (side * side - 1) / 2
  const plane = view.planes.find(one => one.name === name) ?? view.planes[0]
  if (plane === undefined) return null
  const told = over ?? middle
  return (
    <section className="loupe" aria-label="Loupe">
      <Pick
        label="Loupe"
        value={plane.name}
        options={view.planes.map(one => ({ value: one.name, title: one.name }))}
        onChange={setName}
      />
      <svg
        viewBox={`-0.1 -0.1 ${side + 0.2} ${side + 0.2}`}
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it is worked by keys
        tabIndex={0}
        aria-label={`Pixels around the spot, ${plane.name}. Arrows go from pixel to pixel. ${plane.says[middle] ?? ''}`}
        onPointerLeave={() => setOver(null)}
        onKeyDown={keyed}
      >
        {plane.css.map((css, i) => (
          <rect
            // biome-ignore lint/suspicious/noArrayIndexKey: a pixel is its place
            key={i}
            x={i % side}
            y={Math.floor(i / side)}
            width={1.02}
            height={1.02}
            style={{ fill: css ?? 'none' }}
            onPointerEnter={() => setOver(i)}
            onPointerDown={() => onMove((i % side) - (side - 1) / 2, (side - 1) / 2 - Math.floor(i / side))}
          />
        ))}
        {['dark', 'light'].map(tone => (
          <rect
            key={tone}
            className={`here ${tone}`}
            x={(side - 1) / 2}
            y={(side - 1) / 2}
            width={1}
            height={1}
          />
        ))}
      </svg>
      <p className="quiet">
        {plane.says[told]}. A pixel is {shown(view.pixelMm, 3)} mm.
      </p>
    </section>
  )

  function keyed(event: KeyboardEvent): void {
    const right = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0
    const up = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0
    if (right === 0 && up === 0) return
    event.preventDefault()
    event.stopPropagation()
    onMove(right * (event.shiftKey ? 5 : 1), up * (event.shiftKey ? 5 : 1))
  }
}
