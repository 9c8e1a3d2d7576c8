import type { Hinge, Stop } from '../blank.ts'

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

/** How a hinge gets from flat to closed. */
export type Turning = Pick<Hinge, 'begins' | 'ends' | 'via'>

/** The walls but the front, which stays, and the glue flap. */
export type Turned = 'left side' | 'back' | 'glue flap' | 'right side'

/** The walls close the body askew, each at its time, and then turn all together. The glue flap hangs on the back. */
export function squaringTurns(poses: readonly Pose[]): Readonly<Record<Turned, Turning>> {
  const turn = (begins: number, there: number, angle: (pose: Pose) => number): Turning => {
    const [askew, ...more] = poses
      .slice(0, -1)
      .map(pose => ({ amount: pose.amount, deg: degrees(angle(pose)) }))
    return { begins, ends: squareUp.square, via: [{ ...askew!, amount: there }, askew!, ...more] }
  }
  return {
    'left side': turn(0.1, 0.17, pose => pose.back.walls),
    back: turn(0.1, 0.17, pose => Math.PI - pose.back.walls),
    'glue flap': turn(0.12, 0.19, pose => pose.front.walls),
    'right side': turn(0.19, squareUp.askew, pose => Math.PI - pose.front.walls),
  }
}

/** From the middle of one glued flap to that of the other, mm. */
interface Glued {
  /** By their creases, when both lie level. */
  readonly level: number
  /** On their way. */
  readonly apart: number
}

/** How the two flaps and the pad at one corner get from flat to closed: in, then as the walls of the corner make them. */
export function cornerTurns(
  poses: readonly Pose[],
  at: 'back' | 'front',
  caliper: number,
  { level, apart }: Glued,
): Readonly<Record<'flap' | 'pad', Turning & Pick<Hinge, 'closedDeg'>>> {
  const stops = poses.slice(0, -1).map(pose => {
    const { rise, diagonal } = pose[at]
    const lift = standOff * caliper * (1 - Math.cos(rise))
    const gap = level * Math.cos(rise) - lift + lift * Math.cos(diagonal)
    const { amount } = pose
    const flap: Stop = { amount, deg: 90 + degrees(rise), liftMm: lift }
    const pad: Stop = { amount, deg: -degrees(diagonal), liftMm: apart + air * caliper - gap }
    return { flap, pad }
  })
  const closed = poses.at(-1)![at]
  const turn = (closedDeg: number, way: readonly Stop[]) => ({
    closedDeg,
    begins: squareUp.flaps[0],
    ends: squareUp.square,
    via: [{ ...way[0]!, amount: squareUp.flaps[1] }, ...way],
  })
  return {
    flap: turn(
      90 + degrees(closed.rise),
      stops.map(one => one.flap),
    ),
    pad: turn(
      -degrees(closed.diagonal),
      stops.map(one => one.pad),
    ),
  }
}

const degrees = (radians: number): number => (radians * 180) / Math.PI

/** From the middle of a pad to that of the flap it is glued under, in calipers: board and glue. */
export const gluedCalipers = 1.05

/**
 * How far two flaps that cross in the middle rise toward it, radians: each is there a caliper above the other's shorter
 * half, which ends as far before the middle as the longer one goes past it by half.
 * @param over how far the longer halves go past the middle, mm
 */
export const domeOf = (caliper: number, over: number): number => Math.atan((1.1 * caliper) / over)
