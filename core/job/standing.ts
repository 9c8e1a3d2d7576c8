import { BadInput } from '../base/finding.ts'
import { stand } from '../reference/pose.ts'
import type { Job, LampPose, PanelPose } from './job.ts'

/**
 * Throws BadInput when the lamp's disc reaches into the panel: no light could be computed there.
 * A lamp behind a panel that is turned away is fine; the print side is then lit by the room alone.
 * @param name  file the numbers come from
 * @param where place in it
 */
export function checkStanding(
  lamp: LampPose,
  pose: PanelPose,
  panel: Pick<Job['panel'], 'widthMm' | 'heightMm'>,
  name: string,
  where: string,
): void {
  const [x, y, z] = stand(lamp, pose, 1).lamp
  const beyondX = Math.max(0, Math.abs(x) - panel.widthMm / 2)
  const beyondY = Math.max(0, Math.abs(y) - panel.heightMm / 2)
  if (Math.hypot(beyondX, beyondY, z) > lamp.diameterMm / 2) return
  throw new BadInput(
    'lamp-inside-panel',
    name,
    where,
    `the lamp (${lamp.diameterMm} mm wide, ${lamp.distanceMm} mm from the middle) reaches into the panel`,
    'Move it away, raise it, or make it smaller',
  )
}
