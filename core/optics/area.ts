import type { Area } from './lamp-area.ts'
import { outlineLight } from './outline-light.ts'

export { type Area, emptyArea } from './lamp-area.ts'

/** Where a lamp's middle and half sides are, panel frame, mm. */
export interface Outline {
  readonly round: boolean
  readonly middle: readonly [number, number, number]
  readonly across: readonly [number, number, number]
  readonly up: readonly [number, number, number]
}

/** Sets a lamp as it is seen from the panel point (x, y, 0). */
export function aimArea(outline: Outline, x: number, y: number, area: Area): Area {
  const { middle, across, up } = outline
  area.round = outline.round
  area.x = middle[0] - x
  area.y = middle[1] - y
  area.z = middle[2]
  area.acrossX = across[0]
  area.acrossY = across[1]
  area.acrossZ = across[2]
  area.upX = up[0]
  area.upY = up[1]
  area.upZ = up[2]
  const distance = Math.sqrt(area.x * area.x + area.y * area.y + area.z * area.z)
  area.towardX = area.x / distance
  area.towardY = area.y / distance
  area.towardZ = area.z / distance
  if (area.round) setDisc(area)
  else setSides(area)
  outlineLight(area)
  return area
}

function setDisc(area: Area): void {
  const { acrossX, acrossY, acrossZ, upX, upY, upZ } = area
  const ax = acrossY * upZ - acrossZ * upY
  const ay = acrossZ * upX - acrossX * upZ
  const az = acrossX * upY - acrossY * upX
  const length = Math.sqrt(ax * ax + ay * ay + az * az)
  const away = ax * area.x + ay * area.y + az * area.z < 0 ? -1 / length : 1 / length
  area.axisX = ax * away
  area.axisY = ay * away
  area.axisZ = az * away
  area.depth = area.axisX * area.x + area.axisY * area.y + area.axisZ * area.z
  area.radius = Math.sqrt(acrossX * acrossX + acrossY * acrossY + acrossZ * acrossZ)
}

/** Signs of across and up at the corners, in turn. */
const cornerSigns = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const

function setSides(area: Area): void {
  for (let i = 0; i < 4; i++) {
    const [a0, b0] = cornerSigns[i]!
    const [a1, b1] = cornerSigns[(i + 1) & 3]!
    const px = area.x + a0 * area.acrossX + b0 * area.upX
    const py = area.y + a0 * area.acrossY + b0 * area.upY
    const pz = area.z + a0 * area.acrossZ + b0 * area.upZ
    const qx = area.x + a1 * area.acrossX + b1 * area.upX
    const qy = area.y + a1 * area.acrossY + b1 * area.upY
    const qz = area.z + a1 * area.acrossZ + b1 * area.upZ
    const nx = py * qz - pz * qy
    const ny = pz * qx - px * qz
    const nz = px * qy - py * qx
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz)
    const inward = nx * area.x + ny * area.y + nz * area.z < 0 ? -1 / length : 1 / length
    area.sides[3 * i] = nx * inward
    area.sides[3 * i + 1] = ny * inward
    area.sides[3 * i + 2] = nz * inward
  }
}

/**
 * How much of the blurred lamp is seen in a direction: its outline smoothed with a normal distribution of the
 * direction's tangential part, 0..1. A rectangle is exact while the blur is narrow against the hemisphere; a disc is
 * within 0.02 whatever the blur.
 * @param lx,ly,lz    unit vector, lz > 0
 * @param xx,xy,yy    covariance of (lx, ly)
 */
export function softShare(
  area: Area,
  lx: number,
  ly: number,
  lz: number,
  xx: number,
  xy: number,
  yy: number,
): number {
  const z = Math.max(lz, leastHeight)
  const ox = lx / z
  const oy = ly / z
  if (area.round) {
    const along = lx * area.axisX + ly * area.axisY + lz * area.axisZ
    // Far from the disc its plane is nearly parallel, and a blur projected on it means nothing.
    if (along <= (rimPart * area.depth) / Math.sqrt(area.depth ** 2 + area.radius ** 2)) return 0
    const t = area.depth / along
    const qx = lx * t - area.x
    const qy = ly * t - area.y
    const qz = lz * t - area.z
    const off = Math.sqrt(qx * qx + qy * qy + qz * qz)
    // Radially outwards in the lamp's plane; any way in its middle.
    const central = off < 1e-6 * area.radius
    const size = central ? area.radius : off
    const ex = (central ? area.acrossX : qx) / size
    const ey = (central ? area.acrossY : qy) / size
    const ez = (central ? area.acrossZ : qz) / size
    const radial = deviationAlong(area, ex, ey, ez, lx, ly, lz, t, along, ox, oy, xx, xy, yy)
    const fx = area.axisY * ez - area.axisZ * ey
    const fy = area.axisZ * ex - area.axisX * ez
    const fz = area.axisX * ey - area.axisY * ex
    const sideways = deviationAlong(area, fx, fy, fz, lx, ly, lz, t, along, ox, oy, xx, xy, yy)
    // A sharp disc is a half plane at its rim; a small one in a wide blur is a square of the same area.
    const half = area.radius * (1 - squareInset * Math.min(1, (1.25 * radial) / area.radius))
    const inside = normalBelow((half - off) / radial) + normalBelow((half + off) / radial) - 1
    const chord = 2 * normalBelow((area.radius * (1 - squareInset)) / sideways) - 1
    return Math.max(0, inside * chord)
  }
  const { sides } = area
  let share = 1
  for (let pair = 0; pair < 2; pair++) {
    let inside = -1
    for (let i = 3 * pair; i < 12; i += 6) {
      const nx = sides[i]!
      const ny = sides[i + 1]!
      const nz = sides[i + 2]!
      const gx = nx - nz * ox
      const gy = ny - nz * oy
      const variance = xx * gx * gx + 2 * xy * gx * gy + yy * gy * gy
      inside += normalBelow((lx * nx + ly * ny + lz * nz) / Math.sqrt(variance + 1e-18))
    }
    if (inside <= 0) return 0
    share *= inside
  }
  return share
}

/** A direction whose cosine to a disc's axis is below this part of the rim's does not meet it, however blurred. */
export const rimPart = 0.5

/** Half the side of a square of a disc's area is this much short of the radius: 1 − √π / 2. */
export const squareInset = 1 - Math.sqrt(Math.PI) / 2

/** Deviation, mm, of where a blurred direction meets the lamp's plane, along the unit vector e of that plane. */
function deviationAlong(
  area: Area,
  ex: number,
  ey: number,
  ez: number,
  lx: number,
  ly: number,
  lz: number,
  t: number,
  along: number,
  ox: number,
  oy: number,
  xx: number,
  xy: number,
  yy: number,
): number {
  const slide = (lx * ex + ly * ey + lz * ez) / along
  const down = ez - slide * area.axisZ
  const gx = t * (ex - slide * area.axisX - down * ox)
  const gy = t * (ey - slide * area.axisY - down * oy)
  return Math.sqrt(xx * gx * gx + 2 * xy * gx * gy + yy * gy * gy + 1e-12)
}

/** Directions lower than this, as a cosine, count as this high where a blur is projected. */
export const leastHeight = 0.05

/** Coefficients of the logistic form of the normal distribution below; error 1.5e-4. Source: E. Page, Appl. Stat. 26, 75 (1977). */
export const normalFit = { a: 1.5976, b: 0.070565992, reach: 7 } as const

/** Part of a standard normal distribution below x. */
export function normalBelow(x: number): number {
  if (x >= normalFit.reach) return 1
  if (x <= -normalFit.reach) return 0
  return 1 / (1 + Math.exp(-x * (normalFit.a + normalFit.b * x * x)))
}

/**
 * The part of a line of directions that may meet the lamp: all unit vectors above the panel whose part along t is `w`.
 * Sets from…to of the part along g, so that outside a blur of `margin` finds nothing.
 * @param gx,gy  unit vector g; t is g turned left
 * @param w      in (−1, 1)
 * @param margin radians
 * @param span   gets from and to
 * @returns whether there is any
 */
export function meets(
  area: Area,
  gx: number,
  gy: number,
  w: number,
  margin: number,
  span: Float64Array,
): boolean {
  const r = Math.sqrt(1 - w * w)
  let low = -Math.PI / 2
  let high = Math.PI / 2
  for (let i = 0; i < (area.round ? 1 : 4); i++) {
    const nx = area.round ? area.towardX : area.sides[3 * i]!
    const ny = area.round ? area.towardY : area.sides[3 * i + 1]!
    const nz = area.round ? area.towardZ : area.sides[3 * i + 2]!
    const nu = nx * gx + ny * gy
    const nw = ny * gx - nx * gy
    // Directions r (sin φ g + cos φ z) + w t whose product with the vector is at least `least`.
    const least = area.round ? Math.cos(Math.min(Math.PI, discAngle(area) + margin)) : -margin
    const size = Math.sqrt(nu * nu + nz * nz)
    const s = (least - w * nw) / (r * size + 1e-12)
    if (s >= 1) return false
    if (s <= -1) continue
    const reach = Math.acos(s)
    const middle = Math.atan2(nu, nz)
    if (middle + reach < 1.5 * Math.PI) low = Math.max(low, middle - reach)
    if (middle - reach > -1.5 * Math.PI) high = Math.min(high, middle + reach)
    if (low >= high) return false
  }
  span[0] = r * Math.sin(low)
  span[1] = r * Math.sin(high)
  return true
}

/** Lowest direction, as a cosine to the normal, for which a margin is widened. */
export const lowestToward = 0.2

/** Margin for {@link meets} outside which a blur of deviation σ, in the tangential direction, shows nothing of the lamp. */
export function marginOf(area: Area, σ: number): number {
  const { x, y, z, acrossX, acrossY, acrossZ, upX, upY, upZ } = area
  const size = acrossX * acrossX + acrossY * acrossY + acrossZ * acrossZ + upX * upX + upY * upY + upZ * upZ
  // A tangential deviation is a larger angle where the lamp is low; its lowest point counts.
  const low = area.towardZ - Math.sqrt(size / (x * x + y * y + z * z))
  return (wideReach * σ) / Math.max(lowestToward, low)
}

/** A wide lamp's outline is followed this many deviations of the blur outwards. */
export const wideReach = 4.5

/** Half the angle of the ball around a disc. */
export function discAngle({ x, y, z, radius }: Area): number {
  return Math.asin(Math.min(1, radius / Math.sqrt(x * x + y * y + z * z)))
}
