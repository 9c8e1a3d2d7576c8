import { useState } from 'react'
import type { LampPath, LampPose } from '../../core/job/job.ts'
import { pathLength } from '../../core/job/path.ts'
import type { PathPreset } from '../../core/job/paths.ts'
import { addKey, type Keyed } from '../../core/job/track.ts'
import { calmDegreesPerSecond } from '../../core/job/travel.ts'
import { within } from '../stage/angles.ts'
import type { RunView } from '../state/state.ts'
import { Pick } from './Choice.tsx'
import { shown } from './NumberField.tsx'
import { FlashLine, type FlashVerdict } from './track/FlashLine.tsx'
import { KeyCard } from './track/KeyCard.tsx'
import { PathCard } from './track/PathCard.tsx'
import { Track } from './track/Track.tsx'

interface Props {
  readonly paths: readonly LampPath[]
  readonly run: RunView
  /** The user asked for less motion: nothing plays unless it is said again. */
  readonly still: boolean
  readonly presets: readonly PathPreset[]
  readonly lamps: readonly string[]
  readonly usual: { readonly lamps: readonly LampPose[]; readonly eyeDistanceMm: number }
  readonly flashes: FlashVerdict
  readonly onRun: (run: Partial<RunView>) => void
  /** The chosen run changed; edits of one gesture are one step. */
  readonly onPath: (path: LampPath, gesture: string | null) => void
  readonly onStop: () => void
  /** Lamps and panel as they stand on the table, for a key. */
  readonly onTake: (index: number) => void
  readonly onNew: () => void
  readonly onPreset: (preset: PathPreset) => void
  readonly onDrop: () => void
  readonly onMoveAnyway: () => void
  readonly onJudge: () => void
  readonly onDamp: () => void
  readonly onStopJudging: () => void
  readonly onSettle: () => void
}

/** Lamps, panel and eye over time: scrubbed by hand, or played at a pace that cannot strobe; keys are set on its track. */
export function RunStrip(props: Props) {
  const { paths, run, still, onRun } = props
  const path = paths[run.path]
  const length = path === undefined ? 0 : pathLength(path)
  const time = run.timeS ?? 0
  const empty = path === undefined || path.keys.length === 0
  const [chosen, setChosen] = useState<{ readonly path: string; readonly index: number } | null>(null)
  const [asking, setAsking] = useState(false)
  const at = chosen !== null && chosen.path === path?.name && path.keys[chosen.index] ? chosen.index : null
  const choose = (index: number | null): void =>
    setChosen(index === null || path === undefined ? null : { path: path.name, index })
  const put = (keyed: Keyed, gesture: string | null): void => {
    props.onPath(keyed.path, gesture)
    setChosen({ path: keyed.path.name, index: keyed.index })
  }
  return (
    <section className="run" aria-label="Light run">
      <div className="run-top">
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
        <PathCard
          path={path}
          taken={paths.map(one => one.name)}
          presets={props.presets}
          onPath={props.onPath}
          onPreset={props.onPreset}
          onNew={props.onNew}
          onDrop={props.onDrop}
          onSettle={props.onSettle}
        />
        {run.timeS === null ? (
          <button
            type="button"
            className="plain"
            onClick={props.onStop}
            disabled={path === undefined}
            title="Add where lamps and panel are now as the next key"
          >
            Add key
          </button>
        ) : (
          <button
            type="button"
            className="plain"
            onClick={() => addAt(time)}
            disabled={path === undefined}
            title="A key at this place of the run; it changes nothing until it is set"
          >
            Add key
          </button>
        )}
      </div>
      <div className="run-track">
        <Track
          path={path}
          length={length}
          time={time}
          chosen={at}
          flashes={props.flashes.state === 'judged' ? props.flashes.stretches : []}
          onTime={timeS => onRun({ timeS, playing: false })}
          onChoose={choose}
          onPath={put}
          onAdd={addAt}
          onSettle={props.onSettle}
        />
        {empty ? null : (
          <FlashLine
            verdict={props.flashes}
            onJudge={props.onJudge}
            onDamp={props.onDamp}
            onStop={props.onStopJudging}
          />
        )}
        {path === undefined || at === null ? null : (
          <KeyCard
            path={path}
            index={at}
            lamps={props.lamps}
            usual={props.usual}
            onPath={put}
            onTake={() => props.onTake(at)}
            onSettle={props.onSettle}
            onClose={() => setChosen(null)}
          />
        )}
      </div>
      <div className="run-bottom">
        <div className="run-now">
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
                  run.playing
                    ? { playing: false }
                    : { playing: length > 0, timeS: time >= length ? 0 : time },
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
            <button
              type="button"
              className="plain"
              title="Ends the run: lamps and panel stand as they did before"
              onClick={() => onRun({ timeS: null, playing: false })}
            >
              Back to my light
            </button>
          )}
        </div>
        <div className="run-pace">
          {still ? (
            <StillMotion
              asking={asking}
              disabled={length === 0}
              onAsk={setAsking}
              onMove={() => {
                setAsking(false)
                props.onMoveAnyway()
              }}
            />
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
      </div>
    </section>
  )

  function addAt(timeS: number): void {
    if (path !== undefined) put(addKey(path, timeS), null)
  }

  function step(direction: 1 | -1): void {
    onRun({ timeS: within(time + (direction * length) / 24, 0, length), playing: false })
  }
}

/** While the system asks for less motion a run plays only after this was answered, once a sitting. */
function StillMotion(props: {
  readonly asking: boolean
  readonly disabled: boolean
  readonly onAsk: (asking: boolean) => void
  readonly onMove: () => void
}) {
  if (!props.asking)
    return (
      <>
        <span className="quiet">Reduced motion: runs stand still.</span>
        <button
          type="button"
          className="plain small"
          disabled={props.disabled}
          onClick={() => props.onAsk(true)}
        >
          Let them move…
        </button>
      </>
    )
  return (
    <span className="ask-motion" role="alert">
      Your system asks for less motion. Let runs move until you close the window?
      <button type="button" className="plain small" onClick={props.onMove}>
        Let them move
      </button>
      <button type="button" className="plain small" onClick={() => props.onAsk(false)}>
        Keep still
      </button>
    </span>
  )
}
