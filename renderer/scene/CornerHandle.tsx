import type { PointMm } from '../../core/effects/outline.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import { arrows, dragging, fingerReach, round } from './dragging.ts'

interface Props {
  readonly look: Look
  readonly at: PointMm
  readonly label: string
  readonly onMove: (to: PointMm) => void
  readonly onSplit: () => void
  readonly onRemove: () => void
  readonly onSettle: () => void
}

/** Millimetres a press of an arrow key; with Shift a tenth. */
const keyStep = 1

/** A corner of the open area: dragged, moved by keys, doubled or taken away. */
export function CornerHandle({ look, at, label, onMove, onSplit, onRemove, onSettle }: Props) {
  const pixel = pixelOver(look, ...at)
  if (pixel === null) return null
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button cannot lie in a drawing
    <g
      className="draw-handle"
      transform={`translate(${pixel.join(' ')})`}
      role="button"
      tabIndex={0}
      aria-label={`${label}, at ${at[0].toFixed(1)}, ${at[1].toFixed(1)} mm. Arrow keys move it, Insert adds one after it, Delete removes it.`}
      {...dragging(look, onMove, onSettle)}
      onDoubleClick={event => {
        event.stopPropagation()
        onSplit()
      }}
      onKeyDown={event => {
        const step = event.shiftKey ? keyStep / 10 : keyStep
        const by = arrows[event.key]
        if (by !== undefined) onMove([round(at[0] + by[0] * step), round(at[1] + by[1] * step)])
        else if (event.key === 'Insert') onSplit()
        else if (event.key === 'Delete') onRemove()
        else return
        event.stopPropagation()
        event.preventDefault()
        onSettle()
      }}
    >
      <circle className="grip" r={fingerReach} />
      <circle r={6} />
    </g>
  )
}
