import type { Zoom } from '../../core/reference/camera.ts'
import type { PanelPose } from '../../core/reference/scene.ts'
import { tilted, turned } from '../stage/angles.ts'
import { movedBy, type Place, pinched, wheelFactor, zoomedAt } from '../stage/pinch.ts'

/** What a hand finds when it takes hold, and what it leaves. */
export interface Held {
  readonly pose: PanelPose
  readonly zoom: Zoom
}

export interface Hand {
  /** How things are held now. */
  readonly get: () => Held
  readonly put: (held: Partial<Held>) => void
  /** Puts the carton straight and shows it whole. */
  readonly straight: () => void
  /** A press that did not move; CSS pixels from the picture's corner. */
  readonly tap: (x: number, y: number) => void
}

/** Tilt of a drag, degrees a CSS pixel: half the picture's height is about the whole range. */
const degreesPerPixel = 0.25

/** A press that moves less than this is a tap, CSS pixels. */
const tapReach = 5

/** Degrees a press of an arrow key. */
const keyStep = 2
const keyStride = 10

const arrows: Readonly<Record<string, readonly [forward: number, side: number]>> = {
  ArrowUp: [1, 0],
  ArrowDown: [-1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
}

/** Joins a picture to a hand: mouse, pen, fingers, wheel and keys. */
export function holdBy(box: HTMLElement, hand: Hand): void {
  const fingers = new Map<number, Place>()
  let grip: { readonly at: Place; readonly pose: PanelPose; moved: boolean } | null = null
  let pinch: { readonly from: readonly [Place, Place]; readonly held: Held } | null = null

  const size = () => ({ width: box.clientWidth, height: box.clientHeight })
  const inBox = ([x, y]: Place): Place => {
    const { left, top } = box.getBoundingClientRect()
    return [x - left, y - top]
  }

  box.addEventListener('pointerdown', event => {
    // A pin over the picture is pressed for itself.
    if (event.button !== 0 || (event.target instanceof Element && event.target.closest('button'))) return
    box.setPointerCapture(event.pointerId)
    fingers.set(event.pointerId, [event.clientX, event.clientY])
    const [a, b] = [...fingers.values()]
    if (a !== undefined && b !== undefined) {
      // The second finger takes the carton from the first.
      grip = null
      pinch = { from: [a, b], held: hand.get() }
    } else grip = { at: [event.clientX, event.clientY], pose: hand.get().pose, moved: false }
  })

  box.addEventListener('pointermove', event => {
    if (fingers.has(event.pointerId)) fingers.set(event.pointerId, [event.clientX, event.clientY])
    if (pinch !== null) {
      spread(pinch)
      return
    }
    if (grip === null) return
    const [dx, dy] = [event.clientX - grip.at[0], event.clientY - grip.at[1]]
    if (!grip.moved && Math.hypot(dx, dy) < tapReach) return
    grip.moved = true
    hand.put({ pose: tilted(grip.pose, -dy * degreesPerPixel, dx * degreesPerPixel) })
  })

  const lift = (event: PointerEvent, meant: boolean): void => {
    fingers.delete(event.pointerId)
    const tapped = meant && grip !== null && !grip.moved
    grip = null
    pinch = null
    if (tapped) hand.tap(...inBox([event.clientX, event.clientY]))
  }
  box.addEventListener('pointerup', event => lift(event, true))
  box.addEventListener('pointercancel', event => lift(event, false))
  box.addEventListener('dblclick', () => hand.straight())

  box.addEventListener(
    'wheel',
    event => {
      event.preventDefault()
      zoom(wheelFactor(event), inBox([event.clientX, event.clientY]))
    },
    { passive: false },
  )

  box.addEventListener('keydown', event => {
    if (event.target !== box || event.ctrlKey || event.metaKey || event.altKey) return
    const arrow = arrows[event.key]
    if (arrow !== undefined) {
      const step = event.shiftKey ? keyStride : keyStep
      hand.put({ pose: tilted(hand.get().pose, arrow[0] * step, arrow[1] * step) })
    } else if (event.key === 'Home') hand.straight()
    else if (event.key === '+' || event.key === '=') zoom(zoomStep, middle())
    else if (event.key === '-') zoom(1 / zoomStep, middle())
    else return
    event.preventDefault()
  })

  const middle = (): Place => [box.clientWidth / 2, box.clientHeight / 2]

  function zoom(factor: number, at: Place): void {
    hand.put({ zoom: zoomedAt(hand.get().zoom, factor, at, size()) })
  }

  /** Two fingers spread to look closer, turn to turn the carton, and take the view along. */
  function spread({ from, held }: NonNullable<typeof pinch>): void {
    const [a, b] = [...fingers.values()]
    if (a === undefined || b === undefined) return
    const { factor, turnDeg } = pinched(from, [a, b])
    const [then, now] = [middleOf(from), middleOf([a, b])]
    const closer = zoomedAt(held.zoom, factor, inBox(then), size())
    hand.put({
      zoom: movedBy(closer, now[0] - then[0], now[1] - then[1], box.clientHeight),
      ...(Math.abs(turnDeg) > 2 ? { pose: turned(held.pose, turnDeg) } : {}),
    })
  }
}

/** A step of the keys and buttons that look closer. */
export const zoomStep = 1.25

const middleOf = ([[ax, ay], [bx, by]]: readonly [Place, Place]): Place => [(ax + bx) / 2, (ay + by) / 2]
