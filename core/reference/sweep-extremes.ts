import type { XYZ } from '../color/xyz.ts'
import { lampPosition, panelRotation } from './pose.ts'
import type { PanelPose, Scene } from './scene.ts'
import type { Sweeper } from './sweep.ts'

/** A way to hold the panel, and what is seen then. */
export interface Held {
  readonly pose: PanelPose
  readonly XYZ: XYZ
}

/** Farthest tilt that is searched, degrees each way. */
export const searchReachDeg = 60

/** First look, degrees apart, and how exact the answer is. */
const gridDeg = 3
const exactDeg = 0.05
/** Hills that are climbed from the first look. */
const hills = 6

/** Rows of the first look, top tilted toward the eye first. */
export const searchRows = (2 * searchReachDeg) / gridDeg + 1

/** One row of the first look: the panel's turn stays. */
export function searchRow(sweeper: Sweeper, turnDeg: number, row: number): readonly Held[] {
  const tiltForwardDeg = -searchReachDeg + row * gridDeg
  const held: Held[] = []
  for (let tiltSideDeg = -searchReachDeg; tiltSideDeg <= searchReachDeg; tiltSideDeg += gridDeg)
    keep(held, sweeper, { tiltForwardDeg, tiltSideDeg, turnDeg })
  return held
}

/**
 * Brightest and darkest ways to hold the panel at its turn, by luminance, to 0.05°. Mirrors of lamps are looked for
 * where they must be; between the points of the first look a flash narrower than 3° of tilt can otherwise stay unseen.
 * Null where nothing was in sight.
 */
export function extremesOf(
  sweeper: Sweeper,
  scene: Scene,
  turnDeg: number,
  looked: readonly Held[],
): { readonly brightest: Held; readonly darkest: Held } | null {
  const first = looked[0]
  if (first === undefined) return null
  const mirrors: Held[] = []
  for (const lamp of scene.light.lamps)
    if (lamp.lux > 0) keep(mirrors, sweeper, mirrorPose(lampPosition(lamp.pose), scene, turnDeg))
  const byLight = [...looked].sort((a, b) => b.XYZ[1] - a.XYZ[1])
  const bright = [...mirrors, ...byLight.slice(0, hills)].map(held => climbed(sweeper, held, 1))
  const dark = byLight.slice(-hills).map(held => climbed(sweeper, held, -1))
  return {
    brightest: bright.reduce((a, b) => (b.XYZ[1] > a.XYZ[1] ? b : a)),
    darkest: dark.reduce((a, b) => (b.XYZ[1] < a.XYZ[1] ? b : a)),
  }
}

/** The pose whose normal halves the angle between lamp and eye, seen from the panel's middle. */
function mirrorPose(lamp: readonly [number, number, number], scene: Scene, turnDeg: number): PanelPose {
  const { sideDeg, riseDeg } = scene.view.eyeAt ?? { sideDeg: 0, riseDeg: 0 }
  // The eye stands where the normal of a panel so tilted would point.
  const eye = panelRotation({ tiltForwardDeg: riseDeg, tiltSideDeg: sideDeg, turnDeg: 0 }).map(row => row[2])
  const length = Math.hypot(...lamp)
  const [x, y, z] = lamp.map((part, i) => part / length + eye[i]!) as [number, number, number]
  return {
    tiltForwardDeg: Math.asin(y / Math.hypot(x, y, z)) / toRad,
    tiltSideDeg: Math.atan2(x, z) / toRad,
    turnDeg,
  }
}

/** Steps of half the length each time that none of the eight neighbours is better. */
function climbed(sweeper: Sweeper, from: Held, sign: 1 | -1): Held {
  let best = from
  for (let step = gridDeg / 2; step >= exactDeg; ) {
    const before = best
    for (const [forward, side] of neighbours) {
      const pose = {
        ...before.pose,
        tiltForwardDeg: within(before.pose.tiltForwardDeg + step * forward),
        tiltSideDeg: within(before.pose.tiltSideDeg + step * side),
      }
      const XYZ = sweeper.at(pose)
      if (XYZ !== null && sign * XYZ[1] > sign * best.XYZ[1] * (1 + sign * 1e-9)) best = { pose, XYZ }
    }
    if (best === before) step /= 2
  }
  return best
}

const neighbours = [-1, 0, 1]
  .flatMap(a => [-1, 0, 1].map(b => [a, b] as const))
  .filter(([a, b]) => a !== 0 || b !== 0)

const within = (deg: number): number => Math.min(searchReachDeg, Math.max(-searchReachDeg, deg))

function keep(held: Held[], sweeper: Sweeper, pose: PanelPose): void {
  const XYZ = sweeper.at(pose)
  if (XYZ !== null) held.push({ pose, XYZ })
}

const toRad = Math.PI / 180
