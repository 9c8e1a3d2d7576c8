import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import { cellVariance, mirrorKernel, orderBlur, sceneBlur } from '../../../core/optics/blur.ts'
import type { Rays } from '../../../core/optics/rays.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { type Seen, seen } from '../../../core/optics/stack.ts'
import { foil, raysOf, sinusoid, tilted, toward } from '../../support/optics.ts'
import { ofNumbers, type Quantities } from '../row.ts'

/** A bare sinusoid 100 nm deep under D65. */
function look(lines: number, rays: Rays, depth = 100): Seen {
  return seen(foil({ ...sinusoid, pitch: 1e6 / lines, grooveDepth: depth }), rays, 'D65', defaultBoard)
}

/** X, Y, Z of the orders −3…3, 0 left out. */
function nearOrders(lines: number, tilt: number): number[] {
  const orders = look(lines, tilted(tilt)).orders.filter(o => Math.abs(o.m) <= 3)
  return ([0, 1, 2] as const).map(c => orders.reduce((sum, o) => sum + o.color[c], 0))
}

function orderZeroColor(depth: number): number[] {
  const straightOn = raysOf(toward(0), toward(0))
  const blur = orderBlur(sceneBlur(straightOn, defaultBoard, 1, 0), cellVariance(defaultBoard), 0, 0, 0, 0)
  const unit = Math.PI * mirrorKernel(0, 0, blur)
  const [X, Y, Z] = look(1000, straightOn, depth).mirror
  return [Y / unit, ...xyzToLab([X / unit, Y / unit, Z / unit], illuminantWhite('D65'))]
}

/** What the eye sees of a bare grating. */
export const appearance: Quantities = {
  'tilt sweep': ofNumbers(nearOrders),
  'order on tilt': ofNumbers((lines, tilt, m) => {
    const order = look(lines!, tilted(tilt!)).orders.find(o => o.m === m)
    if (order === undefined) throw new Error(`order ${m} is not seen`)
    return [order.wavelength, order.deviation, 100 * order.efficiency]
  }),
  'dark tilts': ofNumbers((lines, ...tilts) => Math.max(...tilts.flatMap(t => nearOrders(lines!, t)))),
  'order 0 colour': ofNumbers(orderZeroColor),
}
