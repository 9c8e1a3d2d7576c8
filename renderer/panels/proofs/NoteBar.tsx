import { useLayoutEffect, useRef, useState } from 'react'
import { coveredPx } from '../../scene/covered.ts'

interface Props {
  /** Of the table, CSS pixels. */
  readonly width: number
  readonly says: string
  readonly acts: readonly { readonly title: string; readonly does: () => void }[]
}

/** A line over the table, in the middle of what no sheet covers: what it stands for or waits for, and the ways on. */
export function NoteBar({ width, says, acts }: Props) {
  const bar = useRef<HTMLParagraphElement>(null)
  const [covered, setCovered] = useState(0)
  useLayoutEffect(() => {
    setCovered(coveredPx(bar.current))
  })
  return (
    <p
      ref={bar}
      className="draw-bar note-bar"
      style={{ left: (width - covered) / 2, maxWidth: width - covered - 16 }}
      onPointerDown={event => event.stopPropagation()}
      onPointerUp={event => event.stopPropagation()}
      onDoubleClick={event => event.stopPropagation()}
    >
      <span role="status">{says}</span>
      {acts.map(({ title, does }) => (
        <button key={title} type="button" className="plain small" onClick={does}>
          {title}
        </button>
      ))}
    </p>
  )
}
