import type { Hinge, Panel } from '../blank.ts'
import { rounded } from '../outline.ts'
import type { MainPanel } from '../spec.ts'
import { type EndWork, flap, mm, type SidePanel } from './end.ts'
import { askewClear } from './square-up.ts'

export const sidePanels: readonly SidePanel[] = ['left side', 'right side']

/** Least width of a dust flap at its crease, mm: anything narrower tears off. */
const narrowest = 3

/**
 * Two flaps on the sides that close first, on level 0. Their straight side is toward `lid`, the panel that the next
 * leaf hangs on; `clear` is how far from there they may reach, mm.
 */
export function dustFlaps(
  { strip, poses, allow, frame, refuse }: EndWork,
  lid: MainPanel,
  clear: number,
  times: readonly [begins: number, ends: number],
): { readonly panels: readonly Panel[]; readonly hinges: readonly Hinge[] } {
  const { caliper, back, width, last } = strip
  const near = Math.max(
    caliper / 2 + allow.easeMm,
    allow.dustInsetMm,
    // Clear of the lid beside it where the body lies askew.
    poses === undefined ? 0 : askewClear(caliper) + allow.easeMm,
    // The right side ends short of the back.
    lid === 'back' ? width - last : 0,
  )
  const far = lid === 'front' ? Math.min(clear, last) : clear
  const depth = allow.dustMm
  const most = (back + caliper) / 2 - allow.easeMm
  if (depth > most)
    refuse(
      'dust flaps',
      `each is ${mm(depth)} deep, and the two overlap beyond ${mm(most)}`,
      `Set the dust flap to ${mm(Math.max(0, most - 0.5))} or less, or make the carton longer.`,
    )
  if (far - near < narrowest)
    refuse(
      'width',
      `between tuck and crease ${mm(Math.max(0, far - near))} is left for the dust flaps, which need ${narrowest} mm`,
      'Make the carton wider, the tuck shallower or the board thinner.',
    )
  const wide = far - near
  const shoulder = Math.min(allow.dustShoulderMm, depth / 2)
  const relief = Math.min(3, wide / 8, (depth - shoulder) / 2)
  const taper = Math.min(
    Math.tan((allow.dustTaperDeg * Math.PI) / 180) * (depth - shoulder - relief),
    wide - relief - Math.max(2, 0.4 * wide),
  )
  const radius = Math.min(3, wide / 6)
  const from = (m: number) => (lid === 'back' ? m : width - m)
  const parts = sidePanels.map(side => {
    const corners = rounded([
      [from(near), 0],
      [from(near + wide / 25), depth, radius / 2],
      [from(far - relief - taper), depth, radius],
      [from(far - relief), shoulder + relief, radius],
      [from(far), shoulder, radius / 3],
      [from(far), 0],
    ])
    const panel = flap(frame, `${side} dust flap`, side, corners)
    const hinge: Hinge = {
      name: panel.name,
      parent: side,
      child: panel.name,
      from: frame.at(side, from(near), 0),
      to: frame.at(side, from(far), 0),
      closedDeg: 90,
      begins: times[0],
      ends: times[1],
    }
    return { panel, hinge }
  })
  return { panels: parts.map(one => one.panel), hinges: parts.map(one => one.hinge) }
}
