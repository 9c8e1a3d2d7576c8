import { readTable } from '../optics/coordinate.ts'
import {
  betweenSlants,
  capWavelengths,
  depthColumns,
  hazeWavelength,
  maxOpticalDepth,
  orderZeroRow,
  type Tables,
} from '../optics/tables.ts'
import { capOf } from './shade-band.ts'
import type { Print, Site } from './site.ts'
import { smoothness } from './smoothness.ts'

/** Exponents beyond this are nothing: e^-24 is 4e-11. */
export const nothing = 24

/** The widest variance of what blurs an order, but for the grating's own. */
export function widestStill(site: Site, hz: number): number {
  return 2 * site.lampSpread * site.lampSpread + site.eyeSpread * site.eyeSpread + site.waviness * hz * hz
}

/**
 * Order 0 of the gratings and the mirror between them, of the lamp.
 * @param x     place of the slant between the tables' two
 * @param q     q_l + q_v
 */
export function addMirror(
  site: Site,
  tables: Tables,
  x: number,
  q: number,
  scale: number,
  out: Float64Array,
): void {
  const hx = site.lampX + site.eyeX
  const hy = site.lampY + site.eyeY
  const hz = site.lampZ + site.eyeZ
  const widest = widestStill(site, hz) + Math.max(tables.cellVariance[0], tables.cellVariance[1])
  if (hx * hx + hy * hy >= 2 * nothing * widest) return
  const eye = site.eyeSpread * site.eyeSpread
  const waves = site.waviness * hz * hz
  const xx = site.lampXX + eye * (1 - site.eyeX * site.eyeX) + waves
  const xy = site.lampXY - eye * site.eyeX * site.eyeY
  const yy = site.lampYY + eye * (1 - site.eyeY * site.eyeY) + waves
  const [along, across] = tables.cellVariance
  const { mirror, groove } = site.print
  const kept = scale * smoothness(tables, q, hazeWavelength)
  let bare = 1
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    if (share <= 0) continue
    bare -= share
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const cellXX = along * gx * gx + across * gy * gy
    const cellXY = (along - across) * gx * gy
    const cellYY = along * gy * gy + across * gx * gx
    const k = kept * share * kernel(hx, hy, xx + cellXX, xy + cellXY, yy + cellYY)
    orderZero(site, tables, i, q, x, groove)
    out[0]! += k * groove[0]!
    out[1]! += k * groove[1]!
    out[2]! += k * groove[2]!
  }
  if (bare <= 0) return
  const k = kept * bare * kernel(hx, hy, xx, xy, yy)
  plainMirror(site, x, mirror)
  out[0]! += k * mirror[0]!
  out[1]! += k * mirror[1]!
  out[2]! += k * mirror[2]!
}

/** N(h; 0, Σ) in two dimensions. */
export function kernel(hx: number, hy: number, xx: number, xy: number, yy: number): number {
  const determinant = xx * yy - xy * xy
  const exponent = (yy * hx * hx - 2 * xy * hx * hy + xx * hy * hy) / (2 * determinant)
  return exponent > nothing ? 0 : Math.exp(-exponent) / (2 * Math.PI * Math.sqrt(determinant))
}

const farGroove = new Float64Array(3)

/** X, Y, Z of order 0 of grating `i`, through the inks; its cap at a wavelength for each of X, Y, Z. @param q q_l + q_v */
export function orderZero(
  site: Site,
  tables: Tables,
  i: number,
  q: number,
  x: number,
  out: Float64Array,
): void {
  const { print } = site
  if (print.parts !== null) {
    const [near, far] = print.parts
    site.print = near
    orderZero(site, tables, i, q, x, out)
    site.print = far
    orderZero(site, tables, i, q, x, farGroove)
    site.print = print
    for (let c = 0; c < 3; c++) out[c] = Math.sqrt(Math.max(0, out[c]! * farGroove[c]!))
    return
  }
  const grooveIndex = site.groove[i]!
  const depth = site.grooveDepth[i]!
  let heldX = 1
  let heldY = 1
  let heldZ = 1
  const pitch = site.pitch[i]!
  if (pitch < tables.grooves[grooveIndex]!.freeFrom) {
    heldX = 1 / capOf(tables, grooveIndex, pitch, depth, capWavelengths[0])
    heldY = 1 / capOf(tables, grooveIndex, pitch, depth, capWavelengths[1])
    heldZ = 1 / capOf(tables, grooveIndex, pitch, depth, capWavelengths[2])
  }
  const at = Math.min(depth * q * ((depthColumns - 1) / maxOpticalDepth), depthColumns - 1)
  const column = Math.min(at | 0, depthColumns - 2)
  const part = at - column
  const rest = 1 - part
  if (print.clear) {
    const { data } = tables.orderZero
    const t = 4 * (orderZeroRow(grooveIndex, 0, 0) * depthColumns + column)
    out[0] = heldX * (rest * data[t]! + part * data[t + 4]!)
    out[1] = heldY * (rest * data[t + 1]! + part * data[t + 5]!)
    out[2] = heldZ * (rest * data[t + 2]! + part * data[t + 6]!)
    return
  }
  if (print.zeroGroove !== grooveIndex || print.zeroColumn !== column)
    inkedColumns(print, tables, grooveIndex, column)
  const { zero, spots } = print
  const X = betweenSlants(rest * zero[0]! + part * zero[3]!, rest * zero[6]! + part * zero[9]!, x)
  const Y = betweenSlants(rest * zero[1]! + part * zero[4]!, rest * zero[7]! + part * zero[10]!, x)
  const Z = betweenSlants(rest * zero[2]! + part * zero[5]!, rest * zero[8]! + part * zero[11]!, x)
  out[0] = heldX * spots[0]! * X
  out[1] = heldY * spots[1]! * Y
  out[2] = heldZ * spots[2]! * Z
}

/** Makes the print's columns of the order-0 table: Σ over its primaries of area · colour, at both slants. */
function inkedColumns(print: Print, tables: Tables, groove: number, column: number): void {
  const { zero, count } = print
  const { data } = tables.orderZero
  print.zeroGroove = groove
  print.zeroColumn = column
  zero.fill(0)
  for (let slant = 0; slant < 2; slant++)
    for (let k = 0; k < count; k++) {
      const area = print.area[k]!
      const row = orderZeroRow(groove, slant, print.primary[k]!)
      for (let side = 0, to = 6 * slant; side < 2; side++, to += 3) {
        const t = 4 * (row * depthColumns + column + side)
        zero[to]! += area * data[t]!
        zero[to + 1]! += area * data[t + 1]!
        zero[to + 2]! += area * data[t + 2]!
      }
    }
}

/** X, Y, Z of a mirror without grooves, through the inks. */
export function plainMirror({ print }: Site, x: number, out: Float64Array): void {
  if (print.parts === null) {
    plainOf(print, x, out)
    return
  }
  plainOf(print.parts[0], x, out)
  plainOf(print.parts[1], x, farGroove)
  for (let c = 0; c < 3; c++) out[c] = Math.sqrt(Math.max(0, out[c]! * farGroove[c]!))
}

function plainOf(print: Print, x: number, out: Float64Array): void {
  const { plain, spots } = print
  if (print.clear) {
    out[0] = plain[0]!
    out[1] = plain[1]!
    out[2] = plain[2]!
    return
  }
  out[0] = spots[0]! * betweenSlants(plain[0]!, plain[3]!, x)
  out[1] = spots[1]! * betweenSlants(plain[1]!, plain[4]!, x)
  out[2] = spots[2]! * betweenSlants(plain[2]!, plain[5]!, x)
}

/** Reflectance of the metal at an angle in the coat over that straight on. */
export function metalAngle({ metalAngle, cosGrazing }: Tables, cos: number): number {
  return readTable(metalAngle, (cos - cosGrazing) / (1 - cosGrazing), 0)
}
