import { type ReactNode, useState } from 'react'
import {
  type Ease,
  type EyePose,
  eases,
  type LampPath,
  type LampPose,
  type PathKey,
} from '../../../core/job/job.ts'
import {
  copyKey,
  type Keyed,
  moveKey,
  removeKey,
  setEase,
  setKey,
  setOther,
} from '../../../core/job/track.ts'
import { Pick } from '../Choice.tsx'
import { NumberField, shown } from '../NumberField.tsx'
import { easeWords } from './ease-words.ts'

interface Props {
  readonly path: LampPath
  readonly index: number
  /** Names of the job's lamps, the one in the hand first. */
  readonly lamps: readonly string[]
  /** Where lamps and eye are when no key says so. */
  readonly usual: { readonly lamps: readonly LampPose[]; readonly eyeDistanceMm: number }
  readonly onPath: (keyed: Keyed, gesture: string | null) => void
  /** Takes over how lamps and panel stand on the table. */
  readonly onTake: () => void
  readonly onSettle: () => void
  readonly onClose: () => void
}

/** One key: when it is, how motion passes it, and where each thing then stands. */
export function KeyCard({ path, index, lamps, usual, onPath, onTake, onSettle, onClose }: Props) {
  const [mover, setMover] = useState('panel')
  const key = path.keys[index]
  if (key === undefined) return null
  const movers = [
    { value: 'panel', title: 'Panel' },
    ...lamps.map((name, i) => ({ value: `lamp ${i}`, title: name })),
    { value: 'eye', title: 'Eye' },
  ]
  const change = (next: LampPath, gesture: string | null = null): void =>
    onPath({ path: next, index }, gesture)
  return (
    <section
      className="key-card"
      aria-label={`Key ${index + 1}`}
      onKeyDown={event => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        onClose()
      }}
    >
      <div className="row-of">
        <strong>
          Key {index + 1} of {path.keys.length}
        </strong>
        <button type="button" className="plain small" onClick={onClose}>
          Close
        </button>
      </div>
      <div className="fields three">
        <NumberField
          label="At"
          unit="s"
          value={key.timeS}
          min={0}
          max={86_400}
          step={0.1}
          digits={2}
          says={index === 0 ? 'A run begins with its first key' : undefined}
          onChange={timeS => change(moveKey(path, index, timeS), `key ${index} time`)}
          onSettle={onSettle}
        />
        <div className="wide">
          <Pick<Ease>
            label="How the run passes it"
            value={key.ease}
            options={eases.map(ease => ({ value: ease, title: easeWords[ease].title }))}
            onChange={ease => change(setEase(path, index, ease))}
          />
        </div>
      </div>
      <p className="quiet">{easeWords[key.ease].says}.</p>
      <Pick label="What stands where" value={mover} options={movers} onChange={setMover} />
      {fieldsOf(mover)}
      <div className="row-of">
        <button
          type="button"
          className="plain small"
          title="Lamps and panel as they are now"
          onClick={onTake}
        >
          Take from the table
        </button>
        <span className="actions">
          <button type="button" className="plain small" onClick={() => onPath(copyKey(path, index), null)}>
            Copy
          </button>
          <button
            type="button"
            className="plain small"
            disabled={path.keys.length < 2}
            onClick={() => onPath(removeKey(path, index), null)}
          >
            Remove
          </button>
        </span>
      </div>
    </section>
  )

  function fieldsOf(what: string): ReactNode {
    const { pose, lamp, eye } = key as PathKey
    const gesture = `key ${index} ${what}`
    if (what === 'panel')
      return (
        <div className="fields three">
          {angle('Tilt', pose.tiltForwardDeg, [-75, 75], tiltForwardDeg =>
            change(setKey(path, index, { pose: { ...pose, tiltForwardDeg } }), gesture),
          )}
          {angle('Sideways', pose.tiltSideDeg, [-75, 75], tiltSideDeg =>
            change(setKey(path, index, { pose: { ...pose, tiltSideDeg } }), gesture),
          )}
          {angle('Turn', pose.turnDeg, [-360, 360], turnDeg =>
            change(setKey(path, index, { pose: { ...pose, turnDeg } }), gesture),
          )}
        </div>
      )
    if (what === 'eye') {
      const usualEye: EyePose = { distanceMm: usual.eyeDistanceMm, sideDeg: 0, riseDeg: 0 }
      const put = (next: EyePose | null, of: string | null): void =>
        change(setKey(path, index, { eye: next }), of)
      return (
        <>
          {said('the eye', eye !== null, on => put(on ? usualEye : null, null))}
          {eye === null ? null : (
            <div className="fields three">
              {length('Distance', eye.distanceMm, [100, 10_000], distanceMm =>
                put({ ...eye, distanceMm }, gesture),
              )}
              {angle('To the right', eye.sideDeg, [-80, 80], sideDeg => put({ ...eye, sideDeg }, gesture))}
              {angle('Up', eye.riseDeg, [-80, 80], riseDeg => put({ ...eye, riseDeg }, gesture))}
            </div>
          )}
        </>
      )
    }
    const which = Number(what.slice(5))
    if (which === 0) return lampFields(lamp, next => change(setKey(path, index, { lamp: next }), gesture))
    const other = (key as PathKey).others[which - 1] ?? null
    const put = (next: LampPose | null, of: string | null): void =>
      change(setOther(path, index, which - 1, next), of)
    return (
      <>
        {said(lamps[which] ?? 'the lamp', other !== null, on =>
          put(on ? (usual.lamps[which] ?? lamp) : null, null),
        )}
        {other === null ? null : lampFields(other, next => put(next, gesture))}
      </>
    )
  }

  function said(name: string, on: boolean, onChange: (on: boolean) => void): ReactNode {
    return (
      <label className="tick">
        <input type="checkbox" checked={on} onChange={event => onChange(event.target.checked)} />
        This key says where {name} is
      </label>
    )
  }

  function lampFields(lamp: LampPose, put: (lamp: LampPose) => void): ReactNode {
    return (
      <div className="fields three">
        {angle('Azimuth', lamp.azimuthDeg, [-360, 360], azimuthDeg => put({ ...lamp, azimuthDeg }))}
        {angle('Elevation', lamp.elevationDeg, [2, 90], elevationDeg => put({ ...lamp, elevationDeg }))}
        {length('Distance', lamp.distanceMm, [20, 10_000], distanceMm => put({ ...lamp, distanceMm }))}
      </div>
    )
  }

  function angle(
    label: string,
    value: number,
    [min, max]: readonly [number, number],
    onChange: (value: number) => void,
  ): ReactNode {
    return (
      <NumberField
        label={label}
        unit="°"
        value={Number(shown(value, 2).replace('−', '-'))}
        min={min}
        max={max}
        step={1}
        digits={1}
        onChange={onChange}
        onSettle={onSettle}
      />
    )
  }

  function length(
    label: string,
    value: number,
    [min, max]: readonly [number, number],
    onChange: (value: number) => void,
  ): ReactNode {
    return (
      <NumberField
        label={label}
        unit="mm"
        value={value}
        min={min}
        max={max}
        step={10}
        digits={0}
        onChange={onChange}
        onSettle={onSettle}
      />
    )
  }
}
