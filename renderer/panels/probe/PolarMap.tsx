import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import type { PanelPose } from '../../../core/reference/scene.ts'
import { type PolarKind, polarPose, polarReachDeg } from '../../../core/reference/sweep-poses.ts'
import { within } from '../../stage/angles.ts'
import { Choice, Pick } from '../Choice.tsx'
import { shown } from '../NumberField.tsx'
import { lightWords } from './light-words.ts'
import type { PolarLight } from './types.ts'

interface Props {
  readonly kind: PolarKind
  readonly radiusMm: number
  readonly light: PolarLight | null
  readonly pose: PanelPose
  readonly onKind: (kind: PolarKind) => void
  readonly onRadius: (radiusMm: number) => void
  readonly onHold: (pose: PanelPose) => void
}

const kinds = [
  { value: 'lean', title: 'Tilted that way', says: 'The angle is the side that the panel leans to' },
  {
    value: 'turn',
    title: 'Turned, then tilted',
    says: 'The angle is how far it is turned before its top goes away',
  },
] as const

const areaRadii: readonly { readonly value: string; readonly title: string }[] = [
  { value: '0', title: 'This spot' },
  { value: '2', title: '4 mm around it' },
  { value: '5', title: '10 mm around it' },
  { value: '15', title: '30 mm around it' },
  { value: '40', title: '80 mm around it' },
]

/** Where the area lights up: outward the tilt, around the angle; a press holds the panel so. */
export function PolarMap({ kind, radiusMm, light, pose, onKind, onRadius, onHold }: Props) {
  const disc = useRef<SVGSVGElement>(null)
  const [place, setPlace] = useState({ tiltDeg: 0, angleDeg: 90 })
  const spokes = light?.rings[0]?.seen.length ?? 72
  const ring = light === null ? null : nearest(light, place.tiltDeg)
  const under = ring?.seen[Math.floor((place.angleDeg / 360) * spokes) % spokes] ?? null
  const what = kind === 'lean' ? 'towards' : 'turned'
  const says = `tilt ${shown(place.tiltDeg, 0)}° ${what} ${shown(place.angleDeg, 0)}°: ${
    under === null ? (light?.whole ? 'out of sight' : 'being computed') : lightWords(under.luminance)
  }`
  const [px, py] = pointOf(place.tiltDeg, place.angleDeg)
  const held = heldAt(pose, kind)
  const step = polarReachDeg / (light?.rings.length ?? 20)
  return (
    <section className="polar" aria-label="Flash map">
      <Choice label="Flash map" value={kind} options={kinds} onChange={onKind} />
      <Pick
        label="Of"
        value={String(radiusMm)}
        options={areaRadii}
        onChange={value => onRadius(Number(value))}
      />
      <svg
        ref={disc}
        viewBox="-1.14 -1.14 2.28 2.28"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it is worked by keys
        tabIndex={0}
        aria-label={`Flash map. Arrows left and right go round, up and down tilt, Enter holds the panel so. ${says}`}
        onPointerDown={event => {
          const there = placeUnder(event)
          setPlace(there)
          hold(there)
        }}
        onPointerMove={event => setPlace(placeUnder(event))}
        onKeyDown={keyed}
      >
        <circle className="ground" r={1} />
        {light?.rings.map(({ tiltDeg, seen }) =>
          seen.map((one, i) =>
            one === null ? null : (
              <path
                // biome-ignore lint/suspicious/noArrayIndexKey: a cell is its angle
                key={`${tiltDeg} ${i}`}
                d={cell(tiltDeg - step / 2, tiltDeg + step / 2, i, seen.length)}
                style={{ fill: one.css, stroke: one.css }}
              />
            ),
          ),
        )}
        {[20, 40, 60].map(tilt => (
          <circle key={tilt} className="ring" r={tilt / polarReachDeg} />
        ))}
        <path className="ring" d="M-1 0H1M0-1V1" />
        {held === null ? null : <circle className="held" cx={held[0]} cy={-held[1]} r={0.07} />}
        <circle className="at" cx={px} cy={-py} r={0.045} />
        <text x={0.02} y={-20 / polarReachDeg - 0.015}>
          20°
        </text>
        <text x={0.02} y={-40 / polarReachDeg - 0.015}>
          40°
        </text>
      </svg>
      <p className="quiet">{says}</p>
    </section>
  )

  function placeUnder(event: PointerEvent): typeof place {
    const box = disc.current?.getBoundingClientRect()
    if (box === undefined) return place
    const scale = 2.28 / box.width
    const x = (event.clientX - box.left - box.width / 2) * scale
    const y = -(event.clientY - box.top - box.height / 2) * scale
    const angleDeg = ((Math.atan2(y, x) * 180) / Math.PI + 360) % 360
    return { tiltDeg: within(Math.hypot(x, y), 0, 1) * polarReachDeg, angleDeg }
  }

  function keyed(event: KeyboardEvent): void {
    const by = event.shiftKey ? 1 : 5
    const around = event.key === 'ArrowLeft' ? by : event.key === 'ArrowRight' ? -by : 0
    const out = event.key === 'ArrowUp' ? by : event.key === 'ArrowDown' ? -by : 0
    if (event.key === 'Enter') hold(place)
    else if (around === 0 && out === 0) return
    else
      setPlace({
        tiltDeg: within(place.tiltDeg + out, 0, polarReachDeg),
        angleDeg: (place.angleDeg + 2 * around + 360) % 360,
      })
    event.preventDefault()
    event.stopPropagation()
  }

  function hold({ tiltDeg, angleDeg }: typeof place): void {
    const from = kind === 'turn' ? { ...pose, turnDeg: 0 } : pose
    onHold(polarPose(from, kind, tiltDeg, angleDeg))
  }
}

function nearest(light: PolarLight, tiltDeg: number): PolarLight['rings'][number] | null {
  return light.rings.reduce<PolarLight['rings'][number] | null>(
    (best, ring) =>
      best === null || Math.abs(ring.tiltDeg - tiltDeg) < Math.abs(best.tiltDeg - tiltDeg) ? ring : best,
    null,
  )
}

function pointOf(tiltDeg: number, angleDeg: number): readonly [number, number] {
  const a = (angleDeg * Math.PI) / 180
  return [(tiltDeg / polarReachDeg) * Math.cos(a), (tiltDeg / polarReachDeg) * Math.sin(a)]
}

/** Where the panel is now; null where the map has no place for it. */
function heldAt(pose: PanelPose, kind: PolarKind): readonly [number, number] | null {
  if (kind === 'turn') {
    const onMap = Math.abs(pose.tiltSideDeg) < 0.5 && pose.tiltForwardDeg >= 0
    return onMap ? pointOf(Math.min(polarReachDeg, pose.tiltForwardDeg), pose.turnDeg) : null
  }
  const [forward, side] = [pose.tiltForwardDeg, pose.tiltSideDeg].map(deg => (deg * Math.PI) / 180) as [
    number,
    number,
  ]
  const tilt = (Math.acos(Math.cos(forward) * Math.cos(side)) * 180) / Math.PI
  const angle = (Math.atan2(Math.sin(forward), Math.sin(side) * Math.cos(forward)) * 180) / Math.PI
  return tilt > polarReachDeg ? null : pointOf(tilt, angle)
}

/** A cell of a ring, y down as drawings have it. */
function cell(fromTilt: number, toTilt: number, i: number, spokes: number): string {
  const [a, b] = [(360 * i) / spokes, (360 * (i + 1)) / spokes]
  const at = (tilt: number, angle: number): string => {
    const [x, y] = pointOf(tilt, angle)
    return `${x.toFixed(4)} ${(-y).toFixed(4)}`
  }
  const [inner, outer] = [fromTilt / polarReachDeg, toTilt / polarReachDeg]
  return `M${at(fromTilt, a)}L${at(toTilt, a)}A${outer} ${outer} 0 0 0 ${at(toTilt, b)}L${at(fromTilt, b)}A${inner} ${inner} 0 0 1 ${at(fromTilt, a)}Z`
}
