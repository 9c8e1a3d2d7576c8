import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import type { LampPath } from '../../core/job/job.ts'
import { pathLength } from '../../core/job/path.ts'
import { calmDegreesPerSecond } from '../../core/job/travel.ts'
import { within } from '../state/angles.ts'
import type { RunView } from '../state/state.ts'
import { Pick } from './Choice.tsx'
import { shown } from './NumberField.tsx'

interface Props {
  readonly paths: readonly LampPath[]
  readonly run: RunView
  /** The user asked for less motion: nothing plays by itself. */
  readonly still: boolean
  readonly onRun: (run: Partial<RunView>) => void
  readonly onKeep: () => void
  readonly onNew: () => void
  readonly onDrop: () => void
  readonly onRename: (name: string) => void
}

/** A lamp's way over the panel: scrubbed by hand, or played at a pace that cannot strobe. */
export function RunStrip({ paths, run, still, onRun, onKeep, onNew, onDrop, onRename }: Props) {
  const path = paths[run.path]
  const length = path === undefined ? 0 : pathLength(path)
  const time = run.timeS ?? 0
  const empty = path === undefined || path.keys.length === 0
  const [naming, setNaming] = useState(false)
  return (
    <section className="run" aria-label="Light run">
      <div className="run-top">
        {naming && path !== undefined ? (
          <Naming
            name={path.name}
            taken={paths.map(one => one.name)}
            onName={name => {
              setNaming(false)
              if (name !== path.name) onRename(name)
            }}
            onLeave={() => setNaming(false)}
          />
        ) : (
          <Pick
            label="Light run"
            hideLabel
            value={String(run.path)}
            options={
              paths.length === 0
                ? [{ value: '0', title: 'none yet' }]
                : paths.map((one, i) => ({ value: String(i), title: one.name }))
            }
            onChange={index => onRun({ path: Number(index), timeS: null, playing: false })}
          />
        )}
        <button
          type="button"
          className="plain"
          onClick={onNew}
          title="Start a run where lamp and panel are now"
        >
          New run
        </button>
        <button
          type="button"
          className="plain"
          onClick={onKeep}
          disabled={path === undefined}
          title="Add where lamp and panel are now as the next stop"
        >
          Add stop
        </button>
        <button type="button" className="plain" onClick={() => setNaming(true)} disabled={path === undefined}>
          Rename
        </button>
        <button type="button" className="plain" onClick={onDrop} disabled={path === undefined}>
          Remove
        </button>
      </div>
      <Track path={path} length={length} time={time} onTime={timeS => onRun({ timeS, playing: false })} />
      <div className="run-bottom">
        {still ? (
          <>
            <button type="button" className="plain" disabled={empty} onClick={() => step(-1)}>
              Step back
            </button>
            <button type="button" className="plain" disabled={empty} onClick={() => step(1)}>
              Step on
            </button>
          </>
        ) : (
          <button
            type="button"
            className="solid small"
            disabled={empty}
            onClick={() =>
              onRun(
                run.playing ? { playing: false } : { playing: length > 0, timeS: time >= length ? 0 : time },
              )
            }
          >
            {run.playing ? 'Hold' : length > 0 ? 'Play' : 'Go there'}
          </button>
        )}
        <span className="time">
          {shown(time, 1)} of {shown(length, 1)} s
        </span>
        {run.timeS === null ? null : (
          <button type="button" className="plain" onClick={() => onRun({ timeS: null, playing: false })}>
            Back to my light
          </button>
        )}
        {still ? (
          <span className="quiet">Reduced motion: runs stand still.</span>
        ) : (
          <label className="tick" title="A calm run cannot flash more than a few times a second">
            <input
              type="checkbox"
              checked={run.pace === 'calm'}
              onChange={event => onRun({ pace: event.target.checked ? 'calm' : 'asKeyed' })}
            />
            Calm, {calmDegreesPerSecond}° a second at most
          </label>
        )}
      </div>
    </section>
  )

  function step(direction: 1 | -1): void {
    onRun({ timeS: within(time + (direction * length) / 24, 0, length), playing: false })
  }
}

/** The run's name, typed over the list. */
function Naming(props: {
  readonly name: string
  readonly taken: readonly string[]
  readonly onName: (name: string) => void
  readonly onLeave: () => void
}) {
  const [text, setText] = useState(props.name)
  const name = text.trim()
  const wrong = name === '' || (name !== props.name && props.taken.includes(name))
  return (
    <label className="naming">
      <span className="label unseen">Name of the run</span>
      <span className="well">
        <input
          // biome-ignore lint/a11y/noAutofocus: the field takes the place of the button that asked for it
          autoFocus
          value={text}
          maxLength={60}
          aria-invalid={wrong}
          onChange={event => setText(event.target.value)}
          onFocus={event => event.target.select()}
          onBlur={() => (wrong ? props.onLeave() : props.onName(name))}
          onKeyDown={event => {
            if (event.key === 'Enter' && !wrong) props.onName(name)
            else if (event.key === 'Escape') {
              event.stopPropagation()
              props.onLeave()
            }
          }}
        />
      </span>
    </label>
  )
}

function Track(props: {
  readonly path: LampPath | undefined
  readonly length: number
  readonly time: number
  readonly onTime: (timeS: number) => void
}) {
  const { path, length, time, onTime } = props
  const track = useRef<HTMLDivElement>(null)
  const part = length > 0 ? time / length : 0
  return (
    <div
      ref={track}
      className={length > 0 ? 'track' : 'track empty'}
      role="slider"
      tabIndex={length > 0 ? 0 : -1}
      aria-label="Place in the light run"
      aria-disabled={length === 0}
      aria-valuemin={0}
      aria-valuemax={length}
      aria-valuenow={time}
      aria-valuetext={`${shown(time, 1)} seconds of ${shown(length, 1)}`}
      onPointerDown={event => {
        event.currentTarget.setPointerCapture(event.pointerId)
        scrub(event)
      }}
      onPointerMove={event => {
        if (event.currentTarget.hasPointerCapture(event.pointerId)) scrub(event)
      }}
      onKeyDown={keyed}
    >
      <span className="rail" />
      {path?.keys.map((key, i) => (
        <span
          // biome-ignore lint/suspicious/noArrayIndexKey: a stop is its place in the run
          key={i}
          className="stop"
          style={{ left: `${length > 0 ? (100 * key.timeS) / length : 0}%` }}
        />
      ))}
      <span className="now" style={{ left: `${100 * part}%` }} />
    </div>
  )

  function scrub(event: PointerEvent): void {
    const box = track.current?.getBoundingClientRect()
    if (box === undefined || length === 0) return
    onTime(length * within((event.clientX - box.left) / box.width, 0, 1))
  }

  function keyed(event: KeyboardEvent): void {
    const by = event.shiftKey ? 1 : 0.1
    const to =
      event.key === 'ArrowRight' || event.key === 'ArrowUp'
        ? time + by
        : event.key === 'ArrowLeft' || event.key === 'ArrowDown'
          ? time - by
          : event.key === 'Home'
            ? 0
            : event.key === 'End'
              ? length
              : null
    if (to === null || length === 0) return
    event.preventDefault()
    event.stopPropagation()
    onTime(within(to, 0, length))
  }
}
