import type { MaterialMap } from '../../core/material/map.ts'
import { sinusoid } from '../../core/optics/groove.ts'
import type { Grating } from '../../core/optics/matter.ts'
import { type Scene, withHandLamp } from '../../core/reference/scene.ts'
import { type PaintPlan, paintMap } from './paint-map.ts'
import { oneLamp, sceneFor } from './scene.ts'

/** A picture to be timed: the panel a little larger than the frame, holography everywhere. */
export interface BenchScene {
  readonly name: string
  readonly map: MaterialMap
  readonly scene: Scene
  /** Seconds for the reference at 1024 × 1024, or null where it is only reported. */
  readonly aim: number | null
}

const groove: Grating = {
  pitch: 1000,
  azimuth: 0,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}

const scene = sceneFor(oneLamp({ azimuthDeg: 0, elevationDeg: 60, distanceMm: 400, diameterMm: 20 }, 0.3))

const wide: Scene = {
  ...scene,
  light: withHandLamp(scene.light, { ...scene.light.lamps[0].pose, diameterMm: 80 }),
}

/** @param size pixels of the map along each side */
export function benchScenes(size: number): readonly BenchScene[] {
  const plan: PaintPlan = { size, sideMm: 80, gratings: 1, whites: [], spots: [], varnish: false }
  const rings = (x: number, y: number): Grating => ({ ...groove, azimuth: Math.atan2(y, x) })
  const plain = paintMap(plan, () => ({ gratings: [groove] }))
  const printed = paintMap({ ...plan, whites: [{ opacity: 0.5, hits: 1 }] }, (x, y) => ({
    gratings: [rings(x, y)],
    cmyk: x < 0 ? [0, 0, 0, 0] : [(x + 1) / 3, (y + 1) / 4, (1 - y) / 4, 0],
    whites: [y < 0 && x > 0 ? 0.5 : 0],
  }))
  return [
    { name: 'rings', map: paintMap(plan, (x, y) => ({ gratings: [rings(x, y)] })), scene, aim: 1 },
    { name: 'rings, half of them printed, a quarter over white', map: printed, scene, aim: 1 },
    { name: 'one grating, small lamp', map: plain, scene, aim: 1 },
    { name: 'one grating, lamp of 80 mm that lights most of it', map: plain, scene: wide, aim: null },
  ]
}
