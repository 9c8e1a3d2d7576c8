import { type KeyboardEvent, type PointerEvent, useMemo, useRef } from 'react'
import type { PanelPose } from '../../../core/reference/scene.ts'
import { angleOf, type SweepAxis, sweepRange, turnedTo } from '../../../core/reference/sweep-poses.ts'
import { within } from '../../stage/angles.ts'
import { Choice } from '../Choice.tsx'
import { shown } from '../NumberField.tsx'
import { lightWords } from './light-words.ts'
import type { SweepCurve } from './types.ts'

interface Props {
  readonly axis: SweepAxis
  readonly curve: SweepCurve | null
  readonly pose: PanelPose
  readonly onAxis: (axis: SweepAxis) => void
  readonly onHold: (pose: PanelPose) => void
}

const axes = [
  { value: 'forward', title: 'Tilt', says: 'The top goes away from you, or comes toward you' },
  { value: 'side', title: 'Sideways', says: 'The right side goes away from you, or comes toward you' },
  { value: 'turn', title: 'Turn', says: 'The panel turns in its own plane' },
] as const

const names: Readonly<Record<SweepAxis, string>> = {
  forward: 'Tilt of the panel',
  side: 'Sideways tilt of the panel',
  turn: 'Turn of the panel',
}

const width = 300
const height = 96
const strip = 14
const left = 30
const decades = [-2, 3] as const

/** Luminance of the spot over one angle, on a scale of powers of ten, and its colours in a strip; a press holds the panel there. */
export function SweepPlot({ axis, curve, pose, onAxis, onHold }: Props) {
  const plot = useRef<HTMLDivElement>(null)
  const [from, to] = sweepRange[axis]
  const at = angleOf(pose, axis)
  const xOf = (deg: number): number => left + ((deg - from) / (to - from)) * (width - left)
  const drawn = useMemo(() => draw(curve, from, to), [curve, from, to])
  const now = curve?.points.reduce((a, b) => (Math.abs(b.deg - at) < Math.abs(a.deg - at) ? b : a)).seen
  const says = now ? lightWords(now.luminance) : 'out of sight'
  const step = axis === 'turn' ? 90 : 30
  const marks = Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => {
    const first = Math.ceil(from / step) * step
    return first + i * step
  }).filter(deg => deg <= to)
  return (
    <section className="sweep" aria-label="Light by angle">
      <Choice label="Light by" value={axis} options={axes} onChange={onAxis} />
      <div
        ref={plot}
        className="plot"
        role="slider"
        tabIndex={0}
        aria-label={names[axis]}
        aria-valuemin={from}
        aria-valuemax={to}
        aria-valuenow={Math.round(at)}
        aria-valuetext={`${shown(at, 0)}°, ${curve === null ? 'being computed' : says}`}
        onPointerDown={event => {
          event.currentTarget.setPointerCapture(event.pointerId)
          hold(event)
        }}
        onPointerMove={event => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) hold(event)
        }}
        onKeyDown={keyed}
      >
        <svg viewBox={`0 0 ${width} ${height + strip + 16}`} aria-hidden="true">
          <rect className="ground" x={left} y={0} width={width - left} height={height} />
          {[-1, 0, 1, 2].map(power => (
            <g key={power}>
              <line className="grid" x1={left} x2={width} y1={yOf(10 ** power)} y2={yOf(10 ** power)} />
              <text className="end" x={left - 4} y={yOf(10 ** power) + 3}>
                {power < 0 ? '0.1' : 10 ** power}
              </text>
            </g>
          ))}
          {marks.map(deg => (
            <text key={deg} x={within(xOf(deg), left + 9, width - 11)} y={height + strip + 13}>
              {shown(deg, 0)}°
            </text>
          ))}
          {drawn.bands.map(({ deg, wide, css }) => (
            <rect
              key={deg}
              className="colour"
              x={xOf(deg) - wide / 2}
              y={height}
              width={wide + 0.4}
              height={strip}
              style={{ fill: css }}
            />
          ))}
          {drawn.lines.map(d => (
            <path key={d} className="curve" d={d} />
          ))}
          <line className="now" x1={xOf(at)} x2={xOf(at)} y1={0} y2={height + strip} />
        </svg>
      </div>
      <p className="quiet">
        {curve === null
          ? 'Being computed …'
          : `At ${shown(at, 0)}°: ${says}. White is paper under the lamps.`}
      </p>
    </section>
  )

  function hold(event: PointerEvent): void {
    const box = plot.current?.getBoundingClientRect()
    if (box === undefined) return
    const x = ((event.clientX - box.left) / box.width) * width
    put(from + ((x - left) / (width - left)) * (to - from))
  }

  function keyed(event: KeyboardEvent): void {
    const by = event.shiftKey ? 10 : 1
    const next =
      event.key === 'ArrowRight' || event.key === 'ArrowUp'
        ? at + by
        : event.key === 'ArrowLeft' || event.key === 'ArrowDown'
          ? at - by
          : event.key === 'Home'
            ? from
            : event.key === 'End'
              ? to
              : null
    if (next === null) return
    event.preventDefault()
    event.stopPropagation()
    put(next)
  }

  function put(deg: number): void {
    onHold(turnedTo(pose, axis, within(Math.round(deg * 2) / 2, from, to)))
  }
}

function yOf(luminance: number): number {
  const power = Math.log10(Math.max(10 ** decades[0], luminance))
  return height * (1 - (Math.min(decades[1], power) - decades[0]) / (decades[1] - decades[0]))
}

/** A line for each stretch in sight, and the strip's bands. */
function draw(curve: SweepCurve | null, from: number, to: number) {
  const lines: string[] = []
  const bands: { deg: number; wide: number; css: string }[] = []
  if (curve === null) return { lines, bands }
  const [a, b] = curve.points
  const wide = a === undefined || b === undefined ? 1 : ((b.deg - a.deg) / (to - from)) * (width - left)
  let line = ''
  for (const { deg, seen } of curve.points) {
    if (seen === null) {
      if (line !== '') lines.push(line)
      line = ''
      continue
    }
    const x = left + ((deg - from) / (to - from)) * (width - left)
    line += `${line === '' ? 'M' : 'L'}${x.toFixed(1)} ${yOf(seen.luminance).toFixed(1)}`
    bands.push({ deg, wide, css: seen.css })
  }
  if (line !== '') lines.push(line)
  return { lines, bands }
}
