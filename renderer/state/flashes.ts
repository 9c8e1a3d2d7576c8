import type { FlashMap } from '../../core/checks/glare/flash-map.ts'
import type { LampPose } from '../../core/job/job.ts'
import type { EyeAt } from '../../core/reference/scene.ts'

/** What one lamp place does to a panel. */
export interface LampFlash {
  readonly pose: LampPose
  /** Largest light of the panel, in paper white; NaN where it is not seen. */
  readonly most: number
  readonly eye: EyeAt
}

/** One panel under all lamp places. */
export interface PanelFlashes {
  readonly panel: string
  /** As one eye place has them. */
  readonly lamps: readonly LampFlash[]
  /** Of all lamp and eye places; null where none sees the panel. */
  readonly brightest: LampFlash | null
  /** Part of the lamp and eye places that see the panel under which it flashes, 0..1; NaN where none sees it. */
  readonly flashing: number
}

/** Light from which it is called a flash, in paper white. */
export const flashFrom = 2

/** The map panel by panel, as seen from the eye place that is nearest to one. */
export function panelFlashes({ panels, lamps, eyes, most }: FlashMap, from: EyeAt): readonly PanelFlashes[] {
  const away = ({ sideDeg, riseDeg }: EyeAt) => Math.hypot(sideDeg - from.sideDeg, riseDeg - from.riseDeg)
  const chosen = eyes.reduce((best, eye, e) => (away(eye) < away(eyes[best]!) ? e : best), 0)
  return panels.map((panel, p) => {
    const at = (l: number, e: number): LampFlash => ({
      pose: lamps[l]!.pose,
      most: most[(p * lamps.length + l) * eyes.length + e]!,
      eye: eyes[e]!,
    })
    const seen = lamps.flatMap((_, l) => eyes.map((_, e) => at(l, e))).filter(one => !Number.isNaN(one.most))
    return {
      panel,
      lamps: lamps.map((_, l) => at(l, chosen)),
      brightest: seen.length === 0 ? null : seen.reduce((a, b) => (b.most > a.most ? b : a)),
      flashing: seen.filter(({ most }) => most >= flashFrom).length / seen.length,
    }
  })
}
