import type { Zoom } from '../../core/reference/camera.ts'
import { within } from './angles.ts'

/** Fingers on the table, and what the wheel does. Places are CSS pixels of the page. */

export type Place = readonly [x: number, y: number]

/** How far two fingers have spread and turned; turning counts counter-clockwise, as the panel's turn does. */
export function pinched(
  [a0, b0]: readonly [Place, Place],
  [a1, b1]: readonly [Place, Place],
): { readonly factor: number; readonly turnDeg: number } {
  const [before, after] = [arm(a0, b0), arm(a1, b1)]
  if (before.length === 0 || after.length === 0) return { factor: 1, turnDeg: 0 }
  const turn = ((after.angle - before.angle) * 180) / Math.PI
  // The screen's y runs down; a half turn either way is the shorter one.
  return { factor: after.length / before.length, turnDeg: -(((turn + 540) % 360) - 180) }
}

const arm = ([ax, ay]: Place, [bx, by]: Place) => ({
  length: Math.hypot(bx - ax, by - ay),
  angle: Math.atan2(by - ay, bx - ax),
})

/** Looks closer or from farther off; the place under `at` (CSS pixels from the table's corner) stays there. */
export function zoomedAt(
  zoom: Zoom,
  factor: number,
  [px, py]: Place,
  size: { readonly width: number; readonly height: number },
): Zoom {
  const scale = within(zoom.scale * factor, 0.5, 40)
  if (scale <= 1 || size.height === 0) return { scale, x: 0, y: 0 }
  // Both in halves of the view's height from the middle.
  const ux = (2 * px - size.width) / size.height
  const uy = (size.height - 2 * py) / size.height
  const keep = 1 / zoom.scale - 1 / scale
  return { scale, x: zoom.x + ux * keep, y: zoom.y + uy * keep }
}

/** The view moved along with a hand, CSS pixels; the whole panel stays where it is. */
export function movedBy(zoom: Zoom, dx: number, dy: number, height: number): Zoom {
  if (zoom.scale <= 1 || height === 0) return zoom
  const unit = 2 / height / zoom.scale
  return { ...zoom, x: zoom.x - dx * unit, y: zoom.y + dy * unit }
}

/** A wheel's factor: a notch of a mouse is about a fifth, and a touchpad's pinch (told as Ctrl) follows the fingers. */
export function wheelFactor(event: {
  readonly deltaY: number
  readonly deltaMode: number
  readonly ctrlKey: boolean
}): number {
  const pixels = event.deltaY * (event.deltaMode === 0 ? 1 : event.deltaMode === 1 ? 16 : 400)
  return Math.exp(-pixels / (event.ctrlKey ? 100 : 500))
}
