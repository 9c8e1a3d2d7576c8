import type { MaterialMap } from '../../core/material/map.ts'
import { sinusoid } from '../../core/optics/groove.ts'
import type { Grating } from '../../core/optics/matter.ts'
import { stand, type Vec3 } from '../../core/reference/pose.ts'
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

/** Two more lamps like the first, from either side. */
export function withThreeLamps(light: Scene['light']): Scene['light'] {
  const [hand] = light.lamps
  const beside = [-50, 50].map(turn => ({
    ...hand,
    pose: { ...hand.pose, azimuthDeg: hand.pose.azimuthDeg + turn },
  }))
  return { ...light, lamps: [hand, ...beside] }
}

/**
 * Holography that sends green of the first order to the eye from every place: the grating vector is (lamp + eye) over
 * the wavelength, so no pixel is dark under the lamp in the hand.
 */
export function everyPixelLit(size: number): { readonly map: MaterialMap; readonly scene: Scene } {
  const plan: PaintPlan = { size, sideMm: 80, gratings: 1, whites: [], spots: [], varnish: false }
  const lit = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }))
  const { lamp, eye } = stand(lit.light.lamps[0].pose, lit.view.pose, lit.view.eyeDistanceMm)
  const towards = (to: Vec3, x: number, y: number) => {
    const [dx, dy] = [to[0] - x, to[1] - y]
    const length = Math.hypot(dx, dy, to[2])
    return [dx / length, dy / length] as const
  }
  const map = paintMap(plan, (u, v) => {
    const [x, y] = [40 * u, 40 * v]
    const l = towards(lamp, x, y)
    const e = towards(eye, x, y)
    const [hx, hy] = [l[0] + e[0], l[1] + e[1]]
    return { gratings: [{ ...groove, pitch: 550 / Math.hypot(hx, hy), azimuth: Math.atan2(hy, hx) }] }
  })
  return { map, scene: lit }
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
    { name: 'rings', map: paintMap(plan, (x, y) => ({ gratings: [rings(x, y)] })), scene, aim: 0.5 },
    { name: 'rings, half of them printed, a quarter over white', map: printed, scene, aim: 0.5 },
    { name: 'one grating, small lamp', map: plain, scene, aim: 0.5 },
    { name: 'one grating, lamp of 80 mm that lights most of it', map: plain, scene: wide, aim: null },
  ]
}
