import type { PointMm } from '../../core/effects/outline.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import { arrows, dragging, fingerReach } from './dragging.ts'

/** A direction that can be dragged: an arrow in the middle of its area. */
export interface Arrow {
  readonly centerXMm: number
  readonly centerYMm: number
  readonly lengthMm: number
  readonly deg: number
  readonly label: string
}

interface Props {
  readonly look: Look
  readonly arrow: Arrow
  readonly onTurn: (deg: number) => void
  readonly onSettle: () => void
}

type Pixel = readonly [x: number, y: number]

/** The arrow of the open effect's direction, turned by its tip. */
export function ArrowHandle({ look, arrow, onTurn, onSettle }: Props) {
  const { centerXMm, centerYMm, lengthMm, deg, label } = arrow
  const radians = (deg * Math.PI) / 180
  const end = (part: number): PointMm => [
    centerXMm + part * lengthMm * Math.cos(radians),
    centerYMm + part * lengthMm * Math.sin(radians),
  ]
  const [tail, tip] = [pixelOver(look, ...end(-0.5)), pixelOver(look, ...end(0.5))]
  if (tail === null || tip === null) return null
  const turned = ([x, y]: PointMm) => {
    const angle = (Math.atan2(y - centerYMm, x - centerXMm) * 180) / Math.PI
    // The turn nearest to the one before, so that a drag does not jump by 360°.
    onTurn(Math.round(angle + 360 * Math.round((deg - angle) / 360)))
  }
  return (
    <g className="draw-arrow">
      <path className="draw-under" d={arrowPath(tail, tip)} />
      <path className="draw-line" d={arrowPath(tail, tip)} />
      <g
        className="draw-handle"
        transform={`translate(${tip.join(' ')})`}
        role="slider"
        tabIndex={0}
        aria-label="Direction of the effect"
        aria-valuemin={-360}
        aria-valuemax={360}
        aria-valuenow={deg}
        aria-valuetext={label}
        {...dragging(look, turned, onSettle)}
        onKeyDown={event => {
          const by = event.key === 'ArrowLeft' || event.key === 'ArrowUp' ? 1 : -1
          if (arrows[event.key] === undefined) return
          event.stopPropagation()
          event.preventDefault()
          onTurn(deg + by * (event.shiftKey ? 15 : 1))
          onSettle()
        }}
      >
        <circle className="grip" r={fingerReach} />
        <circle r={8} />
      </g>
      <text className="draw-hint" x={tip[0] + 14} y={tip[1] + 4}>
        {label}
      </text>
    </g>
  )
}

/** A line with a head at its tip, pixels. */
function arrowPath([ax, ay]: Pixel, [bx, by]: Pixel): string {
  const angle = Math.atan2(by - ay, bx - ax)
  const barb = (turn: number) => `${bx - 16 * Math.cos(angle + turn)} ${by - 16 * Math.sin(angle + turn)}`
  return `M${ax} ${ay}L${bx} ${by}M${barb(0.5)}L${bx} ${by}L${barb(-0.5)}`
}
