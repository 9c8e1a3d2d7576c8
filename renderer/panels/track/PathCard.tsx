import { useState } from 'react'
import type { LampPath } from '../../../core/job/job.ts'
import { pathLength } from '../../../core/job/path.ts'
import type { PathPreset } from '../../../core/job/paths.ts'
import { setDuration, setLoop } from '../../../core/job/track.ts'
import { More } from '../More.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly path: LampPath | undefined
  readonly taken: readonly string[]
  readonly presets: readonly PathPreset[]
  readonly onPath: (path: LampPath, gesture: string | null) => void
  readonly onPreset: (preset: PathPreset) => void
  readonly onNew: () => void
  readonly onDrop: () => void
  readonly onSettle: () => void
}

/** What holds for a whole run, and runs to begin with. */
export function PathCard(props: Props) {
  const { path, onPath } = props
  return (
    <More label="Set up">
      {path === undefined ? null : (
        <>
          <PathName
            key={path.name}
            name={path.name}
            taken={props.taken.filter(one => one !== path.name)}
            onName={name => onPath({ ...path, name }, null)}
          />
          <div className="fields two">
            <NumberField
              label="Duration"
              unit="s"
              value={pathLength(path)}
              min={path.keys.length < 2 ? 0 : 0.1}
              max={3600}
              step={0.5}
              digits={1}
              says="All keys move with it"
              onChange={seconds => onPath(setDuration(path, seconds), 'run duration')}
              onSettle={props.onSettle}
            />
            <label className="tick" title="The run ends where it began and goes on">
              <input
                type="checkbox"
                checked={path.loop}
                onChange={event => onPath(setLoop(path, event.target.checked), null)}
              />
              Goes round
            </label>
          </div>
        </>
      )}
      <div className="presets">
        <strong>Start from</strong>
        <ul>
          {props.presets.map(preset => (
            <li key={preset.path.name}>
              <button
                type="button"
                className="plain small"
                onClick={event => {
                  shut(event.currentTarget)
                  props.onPreset(preset)
                }}
              >
                {preset.path.name}
              </button>
              <span className="quiet">{preset.says}</span>
            </li>
          ))}
        </ul>
      </div>
      <div className="row-of">
        <button
          type="button"
          className="plain small"
          onClick={event => {
            shut(event.currentTarget)
            props.onNew()
          }}
          title="A run that starts where lamp and panel are now"
        >
          New run
        </button>
        <button type="button" className="plain small" onClick={props.onDrop} disabled={path === undefined}>
          Remove run
        </button>
      </div>
    </More>
  )
}

/** What was asked for lies on the track now; the card would hide it. */
function shut(inside: Element): void {
  const card = inside.closest('details')
  if (card !== null) card.open = false
}

/** The command line finds a run by its name. */
function PathName(props: {
  readonly name: string
  readonly taken: readonly string[]
  readonly onName: (name: string) => void
}) {
  const [text, setText] = useState(props.name)
  const name = text.trim()
  const wrong = name === '' || props.taken.includes(name)
  return (
    <label className="naming">
      <span className="label">Name of the run</span>
      <span className="well">
        <input
          value={text}
          maxLength={60}
          aria-invalid={wrong}
          onChange={event => setText(event.target.value)}
          onBlur={keep}
          onKeyDown={event => {
            if (event.key === 'Enter') keep()
          }}
        />
      </span>
    </label>
  )

  function keep(): void {
    if (wrong) setText(props.name)
    else if (name !== props.name) props.onName(name)
  }
}
