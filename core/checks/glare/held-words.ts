import type { PanelPose } from '../../reference/scene.ts'

/** How a panel is held, in whole degrees: `top 12° away, right side 3° nearer, turned 15° clockwise`. */
export function heldWords({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose): string {
  const part = (what: string, deg: number, more: string, less: string) =>
    Math.round(deg) === 0 ? [] : [`${what} ${Math.abs(Math.round(deg))}° ${deg > 0 ? more : less}`]
  const all = [
    ...part('top', tiltForwardDeg, 'away', 'nearer'),
    ...part('right side', tiltSideDeg, 'away', 'nearer'),
    ...part('turned', turnDeg, 'counter-clockwise', 'clockwise'),
  ]
  return all.length === 0 ? 'straight on' : all.join(', ')
}
