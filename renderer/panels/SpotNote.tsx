import type { ReactNode } from 'react'
import type { OverScreen } from '../../core/color/over-screen.ts'
import { NumberField, shown } from './NumberField.tsx'
import type { SpotReading } from './probe/reading.ts'
import { StackDrawing } from './probe/StackDrawing.tsx'

interface Props {
  readonly xMm: number
  readonly yMm: number
  readonly widthMm: number
  readonly heightMm: number
  readonly pinned: boolean
  readonly reading: SpotReading | null
  /** The same spot in the picture beside this one; null where there is one picture. */
  readonly beside: Beside | null
  readonly onMove: (xMm: number, yMm: number) => void
  readonly onClose: () => void
  /** The job keeps the spot already. */
  readonly kept: boolean
  readonly onKeep: () => void
  /** Looked at closer: with `children`. */
  readonly closer: boolean
  readonly onCloser: (closer: boolean) => void
  readonly children?: ReactNode
}

/** Captions of both pictures and how the spot looks in the other. */
interface Beside {
  readonly here: string
  readonly there: string
  /** The note keeps to the left, off the picture that is read. */
  readonly atLeft: boolean
  /** Null where the spot is out of sight in either. */
  readonly found: { readonly css: string; readonly deltaE: number } | null
}

/** What lies at one spot, and how it looks now. */
export function SpotNote({ xMm, yMm, widthMm, heightMm, pinned, reading, onMove, onClose, ...more }: Props) {
  const { closer, beside } = more
  return (
    <aside
      className={`spot${closer && pinned ? ' closer' : ''}${beside?.atLeft ? ' at-left' : ''}`}
      aria-label="Spot"
    >
      <div className="spot-head">
        {pinned ? (
          <div className="fields two">
            <NumberField
              label="x, mm"
              value={xMm}
              min={0}
              max={widthMm}
              step={0.5}
              digits={1}
              onChange={x => onMove(x, yMm)}
            />
            <NumberField
              label="y, mm"
              value={yMm}
              min={0}
              max={heightMm}
              step={0.5}
              digits={1}
              onChange={y => onMove(xMm, y)}
            />
          </div>
        ) : (
          <span className="at">
            x {shown(xMm, 1)} mm, y {shown(yMm, 1)} mm
          </span>
        )}
        {pinned ? (
          <button type="button" className="plain small" onClick={onClose}>
            Let go
          </button>
        ) : null}
      </div>
      {pinned ? (
        <div className="spot-acts">
          <button
            type="button"
            className="plain small"
            aria-expanded={closer}
            title="The light of this spot by angle, its flash map, its pixels, and the pins of the job"
            onClick={() => more.onCloser(!closer)}
          >
            {closer ? 'Only what lies here' : 'Look closer'}
          </button>
          <button type="button" className="plain small" disabled={more.kept} onClick={more.onKeep}>
            {more.kept ? 'Kept as a pin' : 'Keep as a pin'}
          </button>
        </div>
      ) : null}
      <div className="spot-body">
        {closer && pinned && reading !== null ? <StackDrawing reading={reading} /> : null}
        {reading === null ? null : <Reading reading={reading} beside={beside} />}
        {closer && pinned ? more.children : null}
      </div>
    </aside>
  )
}

/** What the screen cannot show, in a few words; null where it shows all. */
function overWords({ stops, outOfGamut }: OverScreen): string | null {
  if (stops > 0) return `${shown(stops, 1)} stops over paper white; the screen cannot show it`
  return outOfGamut ? 'purer than the screen can show' : null
}

/** L*a*b* up to paper white; above it, where CIELAB says nothing to the eye, how many times white and the hue. */
function colourWords([L, a, b]: readonly [number, number, number]): string {
  if (L <= 100) return `L* ${shown(L, 0)}  a* ${shown(a, 0)}  b* ${shown(b, 0)}`
  const hue = ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360
  return `${shown(((L + 16) / 116) ** 3, 1)} × paper white, hue ${shown(hue, 0)}°`
}

const percent = (part: number): string => shown(part * 100, 0)

function Reading({ reading, beside }: { readonly reading: SpotReading; readonly beside: Beside | null }) {
  const [c, m, y, k] = reading.cmyk
  const reads = beside?.here ?? reading.reads
  const there = beside?.found ?? null
  return (
    <dl>
      {reads === null ? null : (
        <>
          <dt>Read as pictured</dt>
          <dd className="reads">{reads}</dd>
        </>
      )}
      <dt>Seen now</dt>
      <dd className="seen-now">
        <span className="chip" style={{ background: reading.css ?? 'none' }} />
        <span>{reading.lab === null ? 'out of sight' : colourWords(reading.lab)}</span>
      </dd>
      {overWords(reading.over) === null ? null : <dd className="over">{overWords(reading.over)}</dd>}
      {beside === null || there === null ? null : (
        <dd className="seen-now beside">
          <span className="chip" style={{ background: there.css }} />
          <span>
            {beside.there.toLowerCase()}, ΔE00{'\u00a0'}
            {shown(there.deltaE, 1)}
          </span>
        </dd>
      )}
      {reading.onWhite === null ? null : (
        <dd className="seen-now">
          <span className="chip" style={{ background: reading.onWhite.css }} />
          <span>
            same ink on white, ΔE00{'\u00a0'}
            {shown(reading.onWhite.deltaE, 1)}
          </span>
        </dd>
      )}
      <dt>Inks</dt>
      <dd>
        C {percent(c)} M {percent(m)} Y {percent(y)} K {percent(k)}
        {reading.spots.map(spot => (
          <span key={spot.name}>
            <br />
            {spot.name} {percent(spot.coverage)} %
          </span>
        ))}
      </dd>
      {reading.whites.map(white => (
        <div key={white.name}>
          <dt>White</dt>
          <dd>
            coverage {percent(white.coverage)} %
            <br />
            <span className="quiet">
              of {percent(white.opacity)} % opacity, {white.hits === 1 ? '1 hit' : `${white.hits} hits`}
            </span>
          </dd>
        </div>
      ))}
      <dt>Grating</dt>
      {reading.gratings.length === 0 ? (
        <dd>{reading.metal > 0.5 ? 'none, plain metal' : 'none, bare board'}</dd>
      ) : (
        reading.gratings.map(one => (
          <dd key={`${one.pitchNm} ${one.azimuthDeg}`}>
            {one.view > 0 ? `view ${one.view}: ` : ''}
            {shown(one.pitchNm, 0)} nm · {shown(one.linesPerMm, 0)} lines/mm
            <br />
            <span className="quiet">
              {shown(one.azimuthDeg, 0)}° across the grooves, {shown(one.grooveDepthNm, 0)} nm deep, share{' '}
              {`${percent(one.share)}\u00a0%`}
            </span>
          </dd>
        ))
      )}
      {reading.gratings.length === 0 ? null : (
        <>
          <dt>Reaches the eye</dt>
          {reading.orders.length === 0 ? <dd>no order worth seeing</dd> : null}
          {reading.orders.map(order => (
            <dd key={`${order.view} ${order.m} ${order.wavelengthNm}`}>
              {order.view > 0 ? `view ${order.view}, ` : ''}order {order.m > 0 ? '+' : ''}
              {shown(order.m, 0)} at {shown(order.wavelengthNm, 0)} nm, {shown(order.timesWhite, 1)} × white
            </dd>
          ))}
        </>
      )}
    </dl>
  )
}
