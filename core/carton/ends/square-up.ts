import type { Stop } from '../blank.ts'

/**
 * A glued body on its way from lying askew to standing square. Back and left side, front and right side make the two
 * corners that are sharp while it is askew, where flaps of a crash-lock bottom are glued to each other.
 */
export interface Pose {
  /** Of the fold slider, 0..1. */
  readonly amount: number
  /** Between the panels of each corner, inside the body, radians. */
  readonly back: Corner
  readonly front: Corner
}

/**
 * A corner of the glued bottom: two walls and two flaps about one place, of which one flap has a crease at 45° and is
 * glued to the other beyond it. The angle of the walls says all others.
 */
export interface Corner {
  /** Between the walls, radians: π/2 when the body is square. */
  readonly walls: number
  /** How far both flaps still stand up from where they lie in a square body, radians. */
  readonly rise: number
  /** How far the crease at 45° is folded toward the print, radians. */
  readonly diagonal: number
}

/** What of a body says how it squares up, mm: the width is from crease to crease. */
interface Body {
  readonly width: number
  readonly caliper: number
}

/** When the body lies askew with all flaps in, and when it is square, as shares of the slider. */
export const squareUp = { flaps: [0, 0.1], askew: 0.28, square: 0.44 } as const

/** Angle of the walls where the body lies askew. Glued flat it would be 0: board of some thickness does not get there. */
export const askewDeg = 55

/** From the crease of two walls that lie askew to where their inner faces part, mm. */
export const askewClear = (caliper: number): number => caliper / 2 / Math.tan((askewDeg * Math.PI) / 360)

const count = 40

/**
 * Poses from askew to square, evenly by the rise of the flaps: square, they keep `dome`.
 * @param dome radians, ≥ 0
 */
export function squaringUp(body: Body, dome: number): readonly Pose[] {
  const most = Math.acos(Math.tan((askewDeg * Math.PI) / 360))
  return Array.from({ length: count + 1 }, (_, i): Pose => {
    const { askew, square } = squareUp
    const amount = askew + ((square - askew) * i) / count
    const back = cornerOf(2 * Math.atan(Math.cos(most + ((dome - most) * i) / count)))
    if (i < count) return { amount, back, front: cornerOf(frontAngle(body, back.walls)) }
    const closed = { ...back, walls: Math.PI / 2 }
    return { amount, back: closed, front: closed }
  })
}

/**
 * Four creases at one place of which two opposite sectors are right angles and two are 45°: what the other folds are
 * when one of them is known. Spherical trigonometry of the four sectors.
 */
function cornerOf(walls: number): Corner {
  return {
    walls,
    rise: Math.acos(Math.tan(walls / 2)),
    diagonal: Math.PI - 2 * Math.asin(Math.min(1, Math.SQRT2 * Math.sin(walls / 2))),
  }
}

/** Angle between front and right side that leaves the glue flap a caliper inside the right side, when back and left side have theirs. */
function frontAngle({ width, caliper }: Body, angle: number): number {
  // From the crease of the right side to that of the glue flap.
  const [x, y] = [-width * Math.cos(angle) - caliper, width * Math.sin(angle)]
  return Math.PI - Math.atan2(y, x) + Math.asin(((1 + air) * caliper) / Math.hypot(x, y))
}

/** Between leaves that are glued, in calipers: keeps the straight way from pose to pose out of the board. */
const air = 0.03

/** How far a leaf that has risen stands off its wall, in calipers where it would lie along it. */
const standOff = 0.65

/**
 * Stops of the hinges at one corner while the body squares up, and how they stand while it lies askew.
 * @param apart from the middle of one glued flap to that of the other when both lie level, mm
 */
export function cornerStops(poses: readonly Pose[], at: 'back' | 'front', caliper: number, apart: number) {
  const stops = poses.slice(0, -1).map(pose => {
    const { rise, diagonal } = pose[at]
    const lift = standOff * caliper * (1 - Math.cos(rise))
    const gap = apart * Math.cos(rise) - lift + lift * Math.cos(diagonal)
    const { amount } = pose
    const flap: Stop = { amount, deg: 90 + degrees(rise), liftMm: lift }
    const pad: Stop = { amount, deg: -degrees(diagonal), liftMm: apart + air * caliper - gap }
    return { flap, pad }
  })
  const closed = poses.at(-1)![at]
  return {
    flap: stops.map(one => one.flap),
    pad: stops.map(one => one.pad),
    closed: { flap: 90 + degrees(closed.rise), pad: -degrees(closed.diagonal) },
  }
}

export const degrees = (radians: number): number => (radians * 180) / Math.PI
