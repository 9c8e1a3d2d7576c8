import type { ProofStrip } from '../../core/proof/manifest.ts'
import type { PanelPose } from '../../core/reference/scene.ts'

/** The picture of a strip that is held most like a pose. */
export function nearestHeld({ held }: Pick<ProofStrip, 'held'>, pose: PanelPose): number {
  let best = 0
  let least = Number.POSITIVE_INFINITY
  for (const [at, one] of held.entries()) {
    const off = Math.hypot(
      one.pose.tiltForwardDeg - pose.tiltForwardDeg,
      one.pose.tiltSideDeg - pose.tiltSideDeg,
      one.pose.turnDeg - pose.turnDeg,
    )
    if (off >= least) continue
    least = off
    best = at
  }
  return best
}
