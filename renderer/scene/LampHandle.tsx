import { type PointerEvent, useState } from 'react'
import type { LampPose } from '../../core/job/job.ts'
import type { Lamp } from '../../core/reference/scene.ts'
import { lampToPad, padToLamp } from '../stage/angles.ts'

interface Props {
  readonly lamps: readonly Lamp[]
  readonly chosen: number
  /** Size of the picture, CSS pixels. */
  readonly width: number
  readonly height: number
  readonly onMove: (index: number, pose: LampPose) => void
  readonly onSettle: () => void
}

/** The lamps themselves, to be taken hold of on the table: seen from above, the ring is the horizon. */
export function LampHandles({ lamps, chosen, ...rest }: Props) {
  // The chosen one lies on top, where lamps are over each other.
  const order = lamps.map((_, i) => i).sort((a, b) => Number(a === chosen) - Number(b === chosen))
  return order.map(i => {
    const lamp = lamps[i]
    return lamp === undefined ? null : (
      <LampHandle key={i} {...rest} lamp={lamp} index={i} chosen={i === chosen} alone={lamps.length === 1} />
    )
  })
}

interface HandleProps extends Omit<Props, 'lamps' | 'chosen'> {
  readonly lamp: Lamp
  readonly index: number
  readonly chosen: boolean
  readonly alone: boolean
}

function LampHandle({ lamp, index, chosen, alone, width, height, onMove, onSettle }: HandleProps) {
  const [held, setHeld] = useState(false)
  const [cx, cy] = [width / 2, height / 2]
  const radius = Math.min(width, height) / 2 - 20
  const [px, py] = lampToPad(lamp.pose)
  const [x, y] = [cx + px * radius, cy - py * radius]
  // The beam starts at the lamp's rim and fades out well before the panel's middle.
  const length = Math.hypot(x - cx, y - cy)
  const reach = Math.min(70, length)
  const [ux, uy] = length === 0 ? [0, 0] : [(cx - x) / length, (cy - y) / length]
  return (
    <svg
      className={`lamp-layer${held ? ' held' : ''}${chosen ? ' chosen' : ''}`}
      width={width}
      height={height}
      aria-hidden="true"
    >
      <circle className="horizon" cx={cx} cy={cy} r={radius} />
      <line className="beam" x1={x + ux * 14} y1={y + uy * 14} x2={x + ux * reach} y2={y + uy * reach} />
      <g
        className="lamp-handle"
        data-testid="lamp-handle"
        transform={`translate(${x} ${y})`}
        onPointerDown={event => {
          event.stopPropagation()
          event.currentTarget.setPointerCapture(event.pointerId)
          setHeld(true)
        }}
        onPointerMove={event => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) move(event)
        }}
        onPointerUp={letGo}
        onPointerCancel={letGo}
      >
        <circle className="grip" r={22} />
        <circle className="glass" r={10} />
        <circle className="glow" r={10} />
        {alone ? null : (
          <text className="number" y={4}>
            {index + 1}
          </text>
        )}
      </g>
    </svg>
  )

  function move(event: PointerEvent<SVGGElement>): void {
    const box = event.currentTarget.ownerSVGElement?.getBoundingClientRect()
    if (box === undefined) return
    onMove(
      index,
      padToLamp(
        (event.clientX - box.left - cx) / radius,
        -(event.clientY - box.top - cy) / radius,
        lamp.pose,
      ),
    )
  }

  function letGo(): void {
    setHeld(false)
    onSettle()
  }
}
