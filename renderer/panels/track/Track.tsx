import { type KeyboardEvent, type PointerEvent, useRef } from 'react'
import type { LampPath } from '../../../core/job/job.ts'
import { copyKey, type Keyed, moveKey, removeKey } from '../../../core/job/track.ts'
import type { FlashStretch } from '../../../core/reference/flash.ts'
import { within } from '../../stage/angles.ts'
import { shown } from '../NumberField.tsx'
import { easeWords } from './ease-words.ts'

interface Props {
  readonly path: LampPath | undefined
  readonly length: number
  readonly time: number
  /** The key that is being set. */
  readonly chosen: number | null
  readonly flashes: readonly FlashStretch[]
  readonly onTime: (timeS: number) => void
  readonly onChoose: (index: number | null) => void
  /** A gesture of the same name is one step of undo. */
  readonly onPath: (keyed: Keyed, gesture: string | null) => void
  readonly onAdd: (timeS: number) => void
  readonly onSettle: () => void
}

/** The path as a line of time: a press on it goes there, keys are taken hold of, and what flashes too often is hatched. */
export function Track(props: Props) {
  const { path, length, time, chosen, flashes, onTime, onChoose, onPath } = props
  const track = useRef<HTMLDivElement>(null)
  /** The press has become a drag, and is no click. */
  const dragged = useRef(false)
  const left = (timeS: number): string => `${length > 0 ? within((100 * timeS) / length, 0, 100) : 0}%`
  return (
    <div className={length > 0 ? 'track' : 'track empty'}>
      <div
        ref={track}
        className="scrub"
        role="slider"
        tabIndex={length > 0 ? 0 : -1}
        aria-label="Place in the light run"
        aria-disabled={length === 0}
        aria-valuemin={0}
        aria-valuemax={length}
        aria-valuenow={time}
        aria-valuetext={`${shown(time, 1)} seconds of ${shown(length, 1)}`}
        title="Press to go there, press twice for a key"
        onPointerDown={event => {
          event.currentTarget.setPointerCapture(event.pointerId)
          scrub(event)
        }}
        onPointerMove={event => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) scrub(event)
        }}
        onDoubleClick={event => {
          if (length > 0) props.onAdd(timeUnder(event))
        }}
        onKeyDown={scrubbed}
      >
        <span className="rail" />
        {path?.keys.map((key, i) => {
          const next = path.keys[i + 1]
          return key.ease !== 'hold' || next === undefined ? null : (
            <span
              // biome-ignore lint/suspicious/noArrayIndexKey: a key is its place in the run
              key={i}
              className="waiting"
              style={{ left: left(key.timeS), width: `calc(${left(next.timeS)} - ${left(key.timeS)})` }}
            />
          )
        })}
        {flashes.map(one => (
          <span
            key={`${one.kind} ${one.fromS}`}
            className={`flashing ${one.kind}`}
            style={{ left: left(one.fromS), width: `calc(${left(one.toS)} - ${left(one.fromS)})` }}
          />
        ))}
        <span className="now" style={{ left: left(time) }} />
      </div>
      {path?.keys.map((key, i) => (
        <button
          // biome-ignore lint/suspicious/noArrayIndexKey: a key is its place in the run
          key={i}
          type="button"
          className="key"
          style={{ left: left(key.timeS) }}
          aria-pressed={chosen === i}
          aria-label={`Key ${i + 1} of ${path.keys.length} at ${shown(key.timeS, 1)} s, ${easeWords[key.ease].title.toLowerCase()}. Arrows move it, C copies it, Delete takes it out.`}
          title={`Key ${i + 1}, ${shown(key.timeS, 1)} s: ${easeWords[key.ease].title.toLowerCase()}`}
          onPointerDown={event => {
            event.stopPropagation()
            event.currentTarget.setPointerCapture(event.pointerId)
            dragged.current = false
          }}
          onPointerMove={event => {
            if (event.currentTarget.hasPointerCapture(event.pointerId) && event.buttons === 1) drag(event, i)
          }}
          onPointerUp={props.onSettle}
          onClick={() => {
            if (dragged.current) return
            onChoose(chosen === i ? null : i)
            onTime(key.timeS)
          }}
          onKeyDown={event => keyed(event, i)}
          onBlur={props.onSettle}
        >
          <span aria-hidden="true">{i + 1}</span>
        </button>
      ))}
    </div>
  )

  function timeUnder(event: { clientX: number }): number {
    const box = track.current?.getBoundingClientRect()
    return box === undefined ? 0 : length * within((event.clientX - box.left) / box.width, 0, 1)
  }

  function scrub(event: PointerEvent): void {
    if (length > 0) onTime(timeUnder(event))
  }

  function drag(event: PointerEvent, index: number): void {
    const box = track.current?.getBoundingClientRect()
    if (path === undefined || box === undefined || event.movementX === 0) return
    dragged.current = true
    // The last key moves the path's end: it goes by the way of the hand, not by a place on a line that stretches.
    const last = index === path.keys.length - 1
    const at = last
      ? (path.keys[index]?.timeS ?? 0) + (event.movementX / box.width) * length
      : timeUnder(event)
    onPath({ path: moveKey(path, index, at), index }, `key ${index}`)
  }

  function keyed(event: KeyboardEvent, index: number): void {
    // A press of a key is a click of its own.
    dragged.current = false
    if (path === undefined) return
    const by = event.shiftKey ? 1 : 0.1
    const step = event.key === 'ArrowRight' ? by : event.key === 'ArrowLeft' ? -by : 0
    const at = path.keys[index]?.timeS ?? 0
    if (step !== 0) onPath({ path: moveKey(path, index, at + step), index }, `key ${index}`)
    else if (event.key === 'Delete' || event.key === 'Backspace') onPath(removeKey(path, index), null)
    else if (event.key === 'Escape' && chosen !== null) onChoose(null)
    else if (event.key === 'c' || event.key === 'C') onPath(copyKey(path, index), null)
    else return
    event.preventDefault()
    event.stopPropagation()
  }

  function scrubbed(event: KeyboardEvent): void {
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
    if (length === 0) return
    if (event.key === 'Insert' || event.key === 'k' || event.key === 'K') props.onAdd(time)
    else if (to === null) return
    else onTime(within(to, 0, length))
    event.preventDefault()
    event.stopPropagation()
  }
}
