import { BadInput } from '../base/finding.ts'
import { stand } from '../reference/pose.ts'
import type { Lamp } from '../reference/scene.ts'
import type { Job, PanelPose } from './job.ts'

/**
 * Throws BadInput when the lamp reaches into the panel: no light could be computed there.
 * A lamp behind a panel that is turned away is fine; the print side is then lit by the room alone.
 * @param name  file the numbers come from
 * @param where place in it
 */
export function checkStanding(
  { pose: place, form }: Pick<Lamp, 'pose' | 'form'>,
  pose: PanelPose,
  panel: Pick<Job['panel'], 'widthMm' | 'heightMm'>,
  name: string,
  where: string,
): void {
  const [x, y, z] = stand(place, pose, 1).lamp
  const beyondX = Math.max(0, Math.abs(x) - panel.widthMm / 2)
  const beyondY = Math.max(0, Math.abs(y) - panel.heightMm / 2)
  const widest = form.kind === 'disc' ? place.diameterMm : Math.hypot(form.widthMm, form.heightMm)
  if (Math.hypot(beyondX, beyondY, z) > widest / 2) return
  throw new BadInput(
    'lamp-inside-panel',
    name,
    where,
    `the lamp (${Math.round(widest)} mm wide, ${place.distanceMm} mm from the middle) reaches into the panel`,
    'Move it away, raise it, or make it smaller',
  )
}
