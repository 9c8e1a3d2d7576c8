import type { PanelPose } from '../../reference/scene.ts'
import type { Frame } from './subject.ts'

/** Farthest tilt each way that is searched, degrees. */
export const reachDeg = 60

/** First and last step, degrees. */
export type ClimbSteps = readonly [first: number, last: number]

/**
 * From a frame to the best of its surroundings: steps of half the length each time that no neighbour is better.
 * @param look null where a pose shows nothing
 */
export function climbed(
  from: Frame,
  look: (pose: PanelPose) => Frame | null,
  worth: (frame: Frame) => number,
  [firstDeg, lastDeg]: ClimbSteps,
): Frame {
  let best = from
  for (let step = firstDeg; step >= lastDeg; ) {
    const before = best
    for (const way of neighbours) {
      // A way that was better once is followed as long as it is.
      for (let next = look(stepped(best.pose, step, way)); next !== null; ) {
        if (!(worth(next) > worth(best) + worthwhile * Math.abs(worth(best)))) break
        best = next
        next = look(stepped(best.pose, step, way))
      }
    }
    if (best === before) step /= 2
  }
  return best
}

/** Part by which a step must be better: less is not worth going on for. */
const worthwhile = 0.002

type Way = readonly [forward: number, side: number, turn: number]

/** Both tilts in eight directions, and the turn. */
const neighbours: readonly Way[] = [
  ...[-1, 0, 1].flatMap(a => [-1, 0, 1].map((b): Way => [a, b, 0])).filter(([a, b]) => a !== 0 || b !== 0),
  [0, 0, -1],
  [0, 0, 1],
]

function stepped({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose, step: number, way: Way): PanelPose {
  const turned = turnDeg + step * way[2]
  return {
    tiltForwardDeg: within(tiltForwardDeg + step * way[0]),
    tiltSideDeg: within(tiltSideDeg + step * way[1]),
    turnDeg: turned - 360 * Math.round(turned / 360),
  }
}

/** The same pose to the nearest smallest step: climbs from near each other then meet. */
export const settled = ({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose): PanelPose => ({
  tiltForwardDeg: within(nearest(tiltForwardDeg)),
  tiltSideDeg: within(nearest(tiltSideDeg)),
  turnDeg: nearest(turnDeg),
})

const nearest = (deg: number): number => smallestDeg * Math.round(deg / smallestDeg)
/** A whole part of every step, and exact in binary. */
const smallestDeg = 0.3125

const within = (deg: number): number => Math.min(reachDeg, Math.max(-reachDeg, deg))
