import type { PanelPose } from '../../../core/reference/scene.ts'
import { shown } from '../NumberField.tsx'

/** Luminance in a few words, three figures at most. */
export function lightWords(luminance: number): string {
  if (luminance < 0.0005) return 'dark'
  const digits = luminance >= 100 ? 0 : luminance >= 10 ? 1 : luminance >= 0.1 ? 2 : 3
  return `${shown(luminance, digits)} × white`
}

/** How the panel is held, in a few words. */
export function poseWords({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose): string {
  const parts = [
    `tilt ${shown(tiltForwardDeg, 1)}°`,
    `sideways ${shown(tiltSideDeg, 1)}°`,
    ...(Math.abs(turnDeg) < 0.05 ? [] : [`turn ${shown(turnDeg, 1)}°`]),
  ]
  return parts.join(', ')
}
