import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useEffect,
  useMemo,
  useRef,
  useState,
  type WheelEvent,
} from 'react'
import type { LampPose, PanelPose } from '../../core/job/job.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { shown } from '../panels/NumberField.tsx'
import { tilted, tiltFromStraightOn, within } from '../state/angles.ts'
import type { Spot } from '../state/state.ts'
import { LampHandles } from './LampHandle.tsx'
import { lookAt, type PanelSize, pixelOver, spotUnder } from './place.ts'

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
  /** Keys that the table itself does not know; true when they meant something. */
  readonly onKey: (event: KeyboardEvent) => boolean
}

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
  useEffect(() => {
    const element = box.current
    if (element === null) return
    const watch = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    )
    watch.observe(element)
    return () => watch.disconnect()
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
      onPointerCancel={() => {
        grip.current = null
      }}
      onPointerLeave={() => {
        if (spot?.pinned === false) props.onSpot(null)
      }}
      onDoubleClick={props.onReset}
      onWheel={wheel}
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
    if (event.button !== 0) return
    event.currentTarget.setPointerCapture(event.pointerId)
    grip.current = { x: event.clientX, y: event.clientY, pose, moved: false }
  }

  function move(event: PointerEvent<HTMLDivElement>): void {
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
    const held = grip.current
    grip.current = null
    if (held === null || held.moved) return
    const under = spotUnder(look, ...at(event))
    props.onSpot(under === null ? null : { ...under, pinned: true })
  }

  function wheel(event: WheelEvent): void {
    const scale = within(zoom.scale * Math.exp(-event.deltaY / 500), 0.5, 40)
    const [px, py] = at(event)
    // The place under the pointer stays there; both in halves of the view's height from the middle.
    const ux = (2 * px - size.width) / size.height
    const uy = (size.height - 2 * py) / size.height
    const keep = 1 / zoom.scale - 1 / scale
    props.onZoom(scale <= 1 ? { scale, x: 0, y: 0 } : { scale, x: zoom.x + ux * keep, y: zoom.y + uy * keep })
  }
}
