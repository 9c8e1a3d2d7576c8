import { pupilRadius, roomUp } from '../optics/scene.ts'
import { type Standing, toPanel } from './pose.ts'
import type { Scene } from './scene.ts'
import type { Site, Surround } from './shade.ts'

/** What lamp and eye are to every place of the panel: the numbers that do not change over a picture. */
export interface Light {
  readonly lampX: number
  readonly lampY: number
  readonly lampZ: number
  readonly eyeX: number
  readonly eyeY: number
  readonly eyeZ: number
  /** A quarter of the lamp's diameter, mm: over the distance, half the angular radius. */
  readonly lampSigma: number
  /** Half the pupil's radius, mm. */
  readonly eyeSigma: number
  /** Turns lamp height over distance³ into irradiance over that in the middle of the untilted panel, mm². */
  readonly irradianceScale: number
  readonly surround: Surround
}

export function lightOf(scene: Scene, standing: Standing): Light {
  const { lamps, roomLevel } = scene.light
  const lamp = lamps[0].pose
  const [lampX, lampY, lampZ] = standing.lamp
  const [eyeX, eyeY, eyeZ] = standing.eye
  return {
    lampX,
    lampY,
    lampZ,
    eyeX,
    eyeY,
    eyeZ,
    lampSigma: lamp.diameterMm / 4,
    eyeSigma: pupilRadius / 2,
    irradianceScale: lamp.distanceMm ** 2 / Math.sin((lamp.elevationDeg * Math.PI) / 180),
    surround: { up: toPanel(standing.rotation, roomUp), level: roomLevel },
  }
}

/** Sets where lamp and eye stand as seen from the panel point (x, y), mm from its middle. */
export function aim(light: Light, x: number, y: number, site: Site): void {
  const lx = light.lampX - x
  const ly = light.lampY - y
  const lampDistance = Math.sqrt(lx * lx + ly * ly + light.lampZ * light.lampZ)
  site.lampX = lx / lampDistance
  site.lampY = ly / lampDistance
  site.lampZ = light.lampZ / lampDistance
  site.lampSpread = light.lampSigma / lampDistance
  site.irradiance = (light.irradianceScale * Math.max(0, site.lampZ)) / (lampDistance * lampDistance)
  const ex = light.eyeX - x
  const ey = light.eyeY - y
  const eyeDistance = Math.sqrt(ex * ex + ey * ey + light.eyeZ * light.eyeZ)
  site.eyeX = ex / eyeDistance
  site.eyeY = ey / eyeDistance
  site.eyeZ = light.eyeZ / eyeDistance
  site.eyeSpread = light.eyeSigma / eyeDistance
}
