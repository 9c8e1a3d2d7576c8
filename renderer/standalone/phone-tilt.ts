import type { PanelPose } from '../../core/reference/scene.ts'
import { tilted } from '../stage/angles.ts'

/** Systems that ask their user first have it; others simply tell. */
type Asking = { requestPermission?: () => Promise<'granted' | 'denied'> }

/** How long a phone may take to tell its first tilt, ms. */
const patienceMs = 2000

export type TiltRefusal = 'none' | 'denied' | 'silent'

/** Why the phone's own tilt is not there, and what can be done. */
export const refusals: Readonly<Record<TiltRefusal, string>> = {
  none: 'This browser tells no tilt here. It does on a phone, when the file lies on a web server with https; opened from a file, most phones tell none. Drag to tilt instead.',
  denied:
    'The system did not allow it. You can allow motion and orientation in the browser’s settings for this page, or drag to tilt.',
  silent:
    'This device tells no tilt. Opened from a file, most phones tell none; on a web server with https they do. Drag to tilt instead.',
}

/** Whether there can be a tilt at all: a page that nobody vouches for gets none. */
export const mayTilt = (): boolean => isSecureContext && 'DeviceOrientationEvent' in window

/**
 * Lets the phone's own tilt hold the carton, from how it is held now. Only ever called by a press of a button: some
 * systems ask their user.
 * @param from how the carton was held when it began
 * @returns what ends it, or why there is none
 */
export async function holdByPhone(
  from: PanelPose,
  onPose: (pose: PanelPose) => void,
): Promise<(() => void) | TiltRefusal> {
  if (!mayTilt()) return 'none'
  const { requestPermission } = DeviceOrientationEvent as Asking
  if (requestPermission !== undefined) {
    const answer = await requestPermission.call(DeviceOrientationEvent).catch(() => 'denied' as const)
    if (answer !== 'granted') return 'denied'
  }
  return new Promise(done => {
    let first: readonly [beta: number, gamma: number] | null = null
    const stop = (): void => removeEventListener('deviceorientation', hear)
    const timer = setTimeout(() => {
      stop()
      done('silent')
    }, patienceMs)
    const hear = ({ beta, gamma }: DeviceOrientationEvent): void => {
      if (beta === null || gamma === null) return
      if (first === null) {
        first = [beta, gamma]
        clearTimeout(timer)
        done(stop)
      }
      onPose(tilted(from, ...turnOf(beta - first[0], gamma - first[1], screen.orientation?.angle ?? 0)))
    }
    addEventListener('deviceorientation', hear)
  })
}

/**
 * How far the screen's top and right side have gone away, degrees. Beta grows as the phone's top comes nearer, gamma as
 * its right side goes away (W3C Device Orientation and Motion, section "deviceorientation event"); the screen may stand
 * turned in the phone by `angle`.
 */
export function turnOf(beta: number, gamma: number, angle: number): readonly [forward: number, side: number] {
  const [away, side] = [-beta, gamma]
  const turn = (angle * Math.PI) / 180
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  return [away * cos + side * sin, side * cos - away * sin]
}
