import { type KeyboardEvent, type PointerEvent, useRef } from 'react'
import type { LampPose } from '../../core/job/job.ts'
import type { Lamp } from '../../core/reference/scene.ts'
import { lampMoved, lampToPad, padToLamp } from '../stage/angles.ts'
import { shown } from './NumberField.tsx'

interface Props {
  readonly lamps: readonly Lamp[]
  /** The lamp that moves. */
  readonly chosen: number
  /** Width / height of the panel, drawn small in the middle. */
  readonly panelShape: number
  readonly onMove: (index: number, pose: LampPose) => void
  readonly onSettle: () => void
}

/** A press this near to a lamp takes hold of it, in radii of the pad; elsewhere the chosen lamp comes. */
const reach = 0.12

/** The dome over the table seen from above: lamps are dots, the chosen one has the beam, the rim is the horizon. */
export function LampPad({ lamps, chosen, panelShape, onMove, onSettle }: Props) {
  const pad = useRef<HTMLDivElement>(null)
  const held = useRef(chosen)
  const lamp = lamps[chosen]?.pose
  if (lamp === undefined) return null
  const [x, y] = lampToPad(lamp)
  const w = panelShape >= 1 ? 0.2 : 0.2 * panelShape
  const h = panelShape >= 1 ? 0.2 / panelShape : 0.2
  return (
    <div
      ref={pad}
      className="pad"
      role="slider"
      tabIndex={0}
      aria-label="Lamp over the table. Left and right arrows walk it round, up and down arrows raise and lower it."
      aria-valuemin={0}
      aria-valuemax={90}
      aria-valuenow={Math.round(lamp.elevationDeg)}
      aria-valuetext={`azimuth ${shown(lamp.azimuthDeg, 0)}°, elevation ${shown(lamp.elevationDeg, 0)}°`}
      onPointerDown={event => {
        event.currentTarget.setPointerCapture(event.pointerId)
        held.current = lampUnder(event)
        move(event)
      }}
      onPointerMove={event => {
        if (event.currentTarget.hasPointerCapture(event.pointerId)) move(event)
      }}
      onPointerUp={onSettle}
      onPointerCancel={onSettle}
      onKeyDown={keyed}
      onBlur={onSettle}
    >
      <svg viewBox="-1.12 -1.12 2.24 2.24" aria-hidden="true">
        <circle className="sky" r={1} />
        <circle className="ring" r={1 / 3} />
        <circle className="ring" r={2 / 3} />
        <path className="ring" d="M-1 0H1M0-1V1" />
        <rect className="panel" x={-w} y={-h} width={2 * w} height={2 * h} />
        <line className="beam" x1={0} y1={0} x2={x} y2={-y} />
        {lamps.map((other, i) => {
          const [ox, oy] = lampToPad(other.pose)
          // biome-ignore lint/suspicious/noArrayIndexKey: a lamp is its place in the list
          return i === chosen ? null : <circle key={i} className="lamp other" cx={ox} cy={-oy} r={0.06} />
        })}
        <circle className="lamp" cx={x} cy={-y} r={0.085} />
      </svg>
    </div>
  )

  function at(event: PointerEvent): readonly [number, number] {
    const box = pad.current?.getBoundingClientRect()
    if (box === undefined) return [0, 0]
    const scale = 2.24 / box.width
    return [
      (event.clientX - box.left - box.width / 2) * scale,
      -(event.clientY - box.top - box.height / 2) * scale,
    ]
  }

  function lampUnder(event: PointerEvent): number {
    const [px, py] = at(event)
    const distances = lamps.map(one => {
      const [lx, ly] = lampToPad(one.pose)
      return Math.hypot(lx - px, ly - py)
    })
    const nearest = distances.indexOf(Math.min(...distances))
    return (distances[nearest] ?? 1) < reach ? nearest : chosen
  }

  function move(event: PointerEvent): void {
    const pose = lamps[held.current]?.pose
    if (pose !== undefined) onMove(held.current, padToLamp(...at(event), pose))
  }

  function keyed(event: KeyboardEvent): void {
    const by = event.shiftKey ? 10 : 2
    const turn = event.key === 'ArrowLeft' ? by : event.key === 'ArrowRight' ? -by : 0
    const lift = event.key === 'ArrowUp' ? by : event.key === 'ArrowDown' ? -by : 0
    if (turn === 0 && lift === 0) return
    event.preventDefault()
    event.stopPropagation()
    if (lamp !== undefined) onMove(chosen, lampMoved(lamp, turn, lift))
  }
}
