import { firstWavelength, lastWavelength } from '../../color/spectrum.ts'
import { pupilRadius } from '../../optics/scene.ts'
import { kernelReach, maxOrder } from '../../optics/tables.ts'
import { type Cell, cellPlaces, type GaussPoints } from './cell.ts'
import type { Narrow, NarrowGrating, NarrowLamp } from './narrow.ts'

/*
 * Where in a cell a flash can lie, and how narrow it is. With h = l + v, the sum of the unit vectors to lamp and eye in
 * the panel's frame, the mirror image and all lobes around it lie at h_t = 0, and the orders of a grating along the line
 * w = h × g = 0. Over a cell h is a parabola in both angles through six of its places: within 0.001 for 15°, a tenth of
 * the narrowest flash. Nothing here says how bright a flash is.
 */

/** Parts of a wide lamp's radius by which its rim is walked. */
const rimSteps = 40
/** The same for the chord that an order sees of it. */
const chordSteps = 20

/** A flash is looked for up to so many deviations from its middle, as the optics does. */
const reach = kernelReach

/**
 * Pieces are halved until none is longer than this many deviations of a flash: Gauss's rule with three points is then
 * within 0.5 % over its middle, within 1 % where the piece ends two deviations off and the light has fallen to a seventh.
 */
const pieceDeviations = 3
/** A piece of up to so many deviations needs one point, or two. */
const onePoint = 0.4
const twoPoints = 1.2

/** Coefficients of h_x and h_y over a cell: middle, first, first², second, second², both. */
const px = new Float64Array(cellPlaces)
const py = new Float64Array(cellPlaces)
const hx = new Float64Array(cellPlaces)
const hy = new Float64Array(cellPlaces)
/** Sine of the lamp's height above the panel. */
const rise = new Float64Array(cellPlaces)
const ratios: [number, number] = [0, 0]

/**
 * How a cell must be looked at, so that no flash of the site hides in it: the angle along which it is to be halved, or
 * null, and then the points that Gauss's rule needs along either. The object is written over by the next call.
 */
export function lookOver(cell: Cell, narrow: Narrow, lamps: readonly NarrowLamp[]): Look {
  const { positions } = cell
  const stride = 3 * (1 + lamps.length)
  ratios[0] = 0
  ratios[1] = 0
  for (const [i, lamp] of lamps.entries()) {
    let lit = false
    let lampZ = 0
    let eyeZ = 0
    let distance = 1
    let eyeDistance = 1
    let lx = 0
    let ly = 0
    for (let k = 0; k < cellPlaces; k++) {
      const at = k * stride
      const to = at + 3 + 3 * i
      const ex = positions[at]! - narrow.x
      const ey = positions[at + 1]! - narrow.y
      const ez = positions[at + 2]!
      const dx = positions[to]! - narrow.x
      const dy = positions[to + 1]! - narrow.y
      const dz = positions[to + 2]!
      const eye = Math.sqrt(ex * ex + ey * ey + ez * ez)
      const far = Math.sqrt(dx * dx + dy * dy + dz * dz)
      hx[k] = ex / eye + dx / far
      hy[k] = ey / eye + dy / far
      rise[k] = dz / far
      if (dz > -lamp.rimMm && ez > 0) lit = true
      if (k > 0) continue
      eyeZ = ez / eye
      lampZ = dz / far
      eyeDistance = eye
      distance = far
      lx = dx / far
      ly = dy / far
    }
    if (!lit) continue
    lookAtRise(Math.min(rise[1]!, rise[2]!), Math.max(rise[1]!, rise[2]!), 0)
    lookAtRise(Math.min(rise[3]!, rise[4]!), Math.max(rise[3]!, rise[4]!), 1)
    parabola(hx, px)
    parabola(hy, py)
    const view: Seen = {
      z: Math.max(0, eyeZ) + Math.max(0, lampZ),
      lampZ: Math.max(0.1, lampZ),
      lx,
      ly,
      lamp: lamp.spreadMm / distance,
      rim: lamp.rimMm / distance,
      inset: lamp.insetMm / distance,
      eye: pupilRadius / 2 / eyeDistance,
      stretchNm: lamp.stretchNm,
    }
    for (const lobe of narrow.lobes) lookAtLobe(lobe, view)
    for (const grating of narrow.gratings) lookAtOrders(grating, view)
  }
  const longest = ratios[0] >= ratios[1] ? 0 : 1
  look.halved = ratios[longest] > pieceDeviations ? longest : null
  look.first = pointsFor(ratios[0])
  look.second = pointsFor(ratios[1])
  return look
}

export interface Look {
  halved: 0 | 1 | null
  first: GaussPoints
  second: GaussPoints
}
const look: Look = { halved: null, first: 1, second: 1 }

const pointsFor = (deviations: number): GaussPoints =>
  deviations <= onePoint ? 1 : deviations <= twoPoints ? 2 : 3

/** Under a lamp that sinks below the panel's plane all light falls steeply. */
function lookAtRise(low: number, high: number, angle: 0 | 1): void {
  if (low < lowLamp) widen(angle, Math.min(pieceDeviations, (high - low) / Math.max(0.02, (low + high) / 2)))
}
/** Sine of the height of a lamp below which that counts. */
const lowLamp = 0.15

/** A lamp as it is seen from the site in the cell's middle; lamp, rim and eye in radians. */
interface Seen {
  readonly z: number
  readonly lampZ: number
  readonly lx: number
  readonly ly: number
  readonly lamp: number
  readonly rim: number
  readonly inset: number
  readonly eye: number
  readonly stretchNm: number
}

function parabola(h: Float64Array, p: Float64Array): void {
  const [middle, high, low, up, down, corner] = h as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  p[0] = middle
  p[1] = (high - low) / 2
  p[2] = (high + low) / 2 - middle
  p[3] = (up - down) / 2
  p[4] = (up + down) / 2 - middle
  p[5] = corner - middle - p[1] - p[2] - p[3] - p[4]
}

function lookAtLobe({ slopes, added }: Narrow['lobes'][number], seen: Seen): void {
  const blur = seen.eye ** 2 + slopes * seen.z ** 2 + added
  const widest = Math.sqrt(blur + (seen.rim > 0 ? 0 : seen.lamp ** 2))
  const off = Math.sqrt(px[0]! ** 2 + py[0]! ** 2)
  const [nx, ny] = off > 0 ? [px[0]! / off, py[0]! / off] : [1, 0]
  let change = 0
  let moved = 0
  for (let k = 1; k < cellPlaces; k++) {
    change += Math.abs(px[k]! * nx + py[k]! * ny)
    moved += Math.abs(px[k]! * ny - py[k]! * nx)
  }
  // The part of h away from the mirror is at least its part along one direction.
  if (off - change > seen.rim + reach * widest) return
  const inner = seen.inset * seen.lampZ - 2 * widest
  const atRim = seen.rim > 0 && (off + change) ** 2 + moved ** 2 > Math.max(0, inner) ** 2
  const lamp = (atRim ? seen.inset / rimSteps : seen.lamp) * seen.lampZ
  const narrowest = Math.sqrt(blur + lamp ** 2)
  for (const angle of [0, 1] as const) {
    const k = 1 + 2 * angle
    const outward = px[k]! * nx + py[k]! * ny
    const length2 = px[k]! ** 2 + py[k]! ** 2
    // ρ² over the cell; on a circle around the mirror direction its square term is nought.
    const bent = Math.max(0, length2 + 2 * off * (px[k + 1]! * nx + py[k + 1]! * ny))
    widen(angle, (2 * Math.max(Math.sqrt(bent), Math.abs(outward))) / narrowest)
  }
}

function lookAtOrders(grating: NarrowGrating, seen: Seen): void {
  const { gx, gy, pitch, along, across, slopes, cellAlong, cellAcross } = grating
  const w0 = py[0]! * gx - px[0]! * gy
  const u0 = px[0]! * gx + py[0]! * gy
  let dw = 0
  let du = 0
  for (let k = 1; k < cellPlaces; k++) {
    dw += Math.abs(py[k]! * gx - px[k]! * gy)
    du += Math.abs(px[k]! * gx + py[k]! * gy)
  }
  const blur = seen.eye ** 2 + slopes * seen.z ** 2
  const lampU = seen.lx * gx + seen.ly * gy
  const lampW = seen.ly * gx - seen.lx * gy
  const far = (Math.abs(u0) + du) * pitch
  const near = Math.max(firstWavelength, (Math.abs(u0) - du) * pitch)
  const lamp2 = seen.lamp ** 2
  const widestW = Math.sqrt(blur + cellAcross + lamp2 + (far * across) ** 2)
  if (Math.abs(w0) - dw > seen.rim + reach * widestW) return
  const widestU = Math.sqrt(blur + cellAlong + lamp2 + (far * along) ** 2)
  const margin = seen.rim + reach * widestU
  if ((Math.abs(u0) + du + margin) * pitch < firstWavelength) return
  if ((Math.abs(u0) - du - margin) * pitch > maxOrder * lastWavelength) return
  // A wide lamp cuts off what is smooth: by its rim along w, and against the eye's own curve along u.
  const wide = seen.rim > 0
  const atRim = wide && Math.abs(w0) + dw > seen.inset * seen.lampZ - 2 * widestW
  const lampW2 = atRim ? (seen.inset / chordSteps) ** 2 : lamp2 * (1 - lampW ** 2)
  const lampU2 = wide ? 0 : lamp2 * (1 - lampU ** 2)
  const deviationW = Math.sqrt(blur + cellAcross + lampW2 + (near * across) ** 2)
  const deviationU = Math.sqrt(blur + cellAlong + lampU2 + (near * along) ** 2)
  const colors = Math.hypot(deviationU, seen.stretchNm / pitch)
  for (const angle of [0, 1] as const) {
    const k = 1 + 2 * angle
    const w = Math.max(Math.abs(py[k]! * gx - px[k]! * gy), Math.abs(py[k + 1]! * gx - px[k + 1]! * gy))
    const u = Math.abs(px[k]! * gx + py[k]! * gy)
    widen(angle, 2 * Math.max(w / deviationW, u / colors))
  }
}

function widen(angle: 0 | 1, ratio: number): void {
  ratios[angle] = Math.max(ratios[angle], ratio)
}
