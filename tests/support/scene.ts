import { newBoard, newPrint, newWhiteInk } from '../../core/job/usual.ts'
import type { IlluminantName } from '../../core/optics/scene.ts'
import type { Lamp, LampPose, Scene } from '../../core/reference/scene.ts'

/** One lamp, a disc. */
export function oneLamp(pose: LampPose, roomLevel = 0, illuminant: IlluminantName = 'D65'): Scene['light'] {
  return { lamps: [discLamp(pose, illuminant)], roomLevel }
}

export const discLamp = (pose: LampPose, illuminant: IlluminantName = 'D65'): Lamp => ({
  name: 'Lamp',
  pose,
  form: { kind: 'disc' },
  illuminant,
  spectrum: null,
  lux: 500,
})

/** A flat panel under one lamp, 400 mm from the eye; what a test names replaces its part. */
export function sceneFor(light: Scene['light'], change: Partial<Scene> = {}): Scene {
  return {
    board: newBoard,
    whiteInk: newWhiteInk,
    print: newPrint,
    light,
    view: {
      pose: { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 },
      eyeDistanceMm: 400,
      exposureStops: 0,
      anchorLux: null,
      adapt: true,
      gamut: 'srgb',
      displayWhite: 'D65',
    },
    ...change,
  }
}
