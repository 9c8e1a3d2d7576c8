import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import type { LampPose, PanelPose } from '../../core/job/job.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { shown } from '../panels/NumberField.tsx'
import { tilted, tiltFromStraightOn, turned } from '../stage/angles.ts'
import { movedBy, type Place, pinched, wheelFactor, zoomedAt } from '../stage/pinch.ts'
import { type Look, lookAt, type PanelSize, pixelOver, spotUnder } from '../stage/place.ts'
import type { Spot } from '../state/state.ts'
import { LampHandles } from './LampHandle.tsx'

interface Props {
  readonly scene: Scene
  readonly panel: PanelSize
  readonly zoom: Zoom
  readonly spot: Spot | null
  readonly picture: ReactNode
  readonly onPose: (pose: PanelPose) => void
  /** The lamp that keys and the light strip set. */
  readonly lamp: number
  readonly onLamp: (index: number, pose: LampPose) => void
  readonly onSettle: () => void
  readonly onSpot: (spot: Spot | null) => void
  readonly onZoom: (zoom: Zoom) => void
  readonly onReset: () => void
  /** What lies over the picture, such as a shape that is being drawn. */
  readonly over?: (look: Look) => ReactNode
  /** Keys that the table itself does not know; true when they meant something. */
  readonly onKey: (event: KeyboardEvent) => boolean
}

const middleOf = ([[ax, ay], [bx, by]]: readonly [Place, Place]): Place => [(ax + bx) / 2, (ay + by) / 2]

/** Tilt of a drag, degrees a CSS pixel: half the table's height is about the whole range. */
const degreesPerPixel = 0.25

/** A press that moves less than this is a click, CSS pixels. */
const clickReach = 4

/** The table with the panel on it: a drag tilts the panel, the lamp has its own handle, a click reads a spot. */
export function Table(props: Props) {
  const { scene, panel, zoom, spot } = props
  const box = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  const grip = useRef<{ x: number; y: number; pose: PanelPose; moved: boolean } | null>(null)
  /** The wheel is pressed: the view goes with it. */
  const pan = useRef<{ x: number; y: number; zoom: Zoom } | null>(null)
  /** Fingers and pens that are down, and how panel and view were when the second came. */
  const fingers = useRef(new Map<number, Place>())
  const pinch = useRef<{ from: readonly [Place, Place]; zoom: Zoom; pose: PanelPose } | null>(null)
  useEffect(() => {
    const element = box.current
    if (element === null) return
    const watch = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    )
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  const wheeled = useRef(wheel)
  wheeled.current = wheel
  useEffect(() => {
    const element = box.current
    // React's own wheel events cannot keep a touchpad's pinch from enlarging the page.
    const heard = (event: WheelEvent): void => {
      event.preventDefault()
      wheeled.current(event)
    }
    element?.addEventListener('wheel', heard, { passive: false })
    return () => element?.removeEventListener('wheel', heard)
  }, [])
  const look = useMemo(
    () => lookAt(scene, panel, zoom, size.width, size.height),
    [scene, panel, zoom, size.width, size.height],
  )
  const { pose } = scene.view
  const tilt = tiltFromStraightOn(pose)
  const mark = spot === null ? null : pixelOver(look, spot.xMm, spot.yMm)
  return (
    <div
      ref={box}
      className="table"
      role="application"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: it is worked by keys
      tabIndex={0}
      aria-label="The panel on the table. Arrow keys tilt it, with Shift they move the chosen lamp, Home puts it straight."
      aria-describedby="pose"
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={event => {
        lift(event)
        grip.current = null
        pan.current = null
      }}
      onPointerLeave={() => {
        // A spot that was met a moment ago may not be drawn yet.
        if (spot?.pinned !== true) props.onSpot(null)
      }}
      onDoubleClick={props.onReset}
      onKeyDown={event => {
        if (props.onKey(event)) event.preventDefault()
      }}
    >
      <div className="picture">{props.picture}</div>
      {size.width === 0 ? null : (
        <LampHandles
          lamps={scene.light.lamps}
          chosen={props.lamp}
          width={size.width}
          height={size.height}
          onMove={props.onLamp}
          onSettle={props.onSettle}
        />
      )}
      {size.width === 0 ? null : props.over?.(look)}
      {spot?.pinned && mark !== null ? (
        <span className="mark-spot" style={{ left: mark[0], top: mark[1] }} aria-hidden="true" />
      ) : null}
      <p id="pose" className="pose">
        {tilt < 0.05 && pose.turnDeg === 0
          ? 'Straight on'
          : `Tilt ${shown(tilt, 0)}°${pose.turnDeg === 0 ? '' : `, turn ${shown(pose.turnDeg, 0)}°`}`}
        {zoom.scale === 1 ? '' : ` · ${shown(zoom.scale * 100, 0)} %`}
      </p>
    </div>
  )

  function at(event: { clientX: number; clientY: number }): readonly [number, number] {
    const rect = box.current?.getBoundingClientRect()
    return [event.clientX - (rect?.left ?? 0), event.clientY - (rect?.top ?? 0)]
  }

  function down(event: PointerEvent<HTMLDivElement>): void {
    if (event.button === 1) {
      event.preventDefault()
      event.currentTarget.setPointerCapture(event.pointerId)
      pan.current = { x: event.clientX, y: event.clientY, zoom }
      return
    }
    if (event.button !== 0) return
    event.currentTarget.setPointerCapture(event.pointerId)
    fingers.current.set(event.pointerId, [event.clientX, event.clientY])
    const [a, b] = [...fingers.current.values()]
    if (a !== undefined && b !== undefined) {
      // The second finger takes the panel from the first.
      grip.current = null
      pinch.current = { from: [a, b], zoom, pose }
      return
    }
    grip.current = { x: event.clientX, y: event.clientY, pose, moved: false }
  }

  function move(event: PointerEvent<HTMLDivElement>): void {
    if (fingers.current.has(event.pointerId))
      fingers.current.set(event.pointerId, [event.clientX, event.clientY])
    if (pinch.current !== null) {
      spread(pinch.current)
      return
    }
    if (pan.current !== null) {
      const { x, y, zoom: from } = pan.current
      props.onZoom(movedBy(from, event.clientX - x, event.clientY - y, size.height))
      return
    }
    const held = grip.current
    if (held !== null) {
      const dx = event.clientX - held.x
      const dy = event.clientY - held.y
      if (!held.moved && Math.hypot(dx, dy) < clickReach) return
      held.moved = true
      props.onPose(tilted(held.pose, -dy * degreesPerPixel, dx * degreesPerPixel))
    } else if (spot?.pinned !== true) {
      const under = spotUnder(look, ...at(event))
      if (under !== null || spot !== null) props.onSpot(under === null ? null : { ...under, pinned: false })
    }
  }

  function up(event: PointerEvent<HTMLDivElement>): void {
    lift(event)
    pan.current = null
    const held = grip.current
    grip.current = null
    if (held === null || held.moved) return
    const under = spotUnder(look, ...at(event))
    props.onSpot(under === null ? null : { ...under, pinned: true })
  }

  function lift({ pointerId }: PointerEvent<HTMLDivElement>): void {
    fingers.current.delete(pointerId)
    pinch.current = null
  }

  /** Two fingers spread to look closer, turn to turn the panel, and take the view along. */
  function spread({ from, zoom: zoomThen, pose: poseThen }: NonNullable<typeof pinch.current>): void {
    const [a, b] = [...fingers.current.values()]
    if (a === undefined || b === undefined) return
    const { factor, turnDeg } = pinched(from, [a, b])
    const [then, now] = [middleOf(from), middleOf([a, b])]
    const closer = zoomedAt(zoomThen, factor, at({ clientX: then[0], clientY: then[1] }), size)
    props.onZoom(movedBy(closer, now[0] - then[0], now[1] - then[1], size.height))
    if (Math.abs(turnDeg) > 2) props.onPose(turned(poseThen, turnDeg))
  }

  function wheel(event: WheelEvent): void {
    props.onZoom(zoomedAt(zoom, wheelFactor(event), at(event), size))
  }
}
