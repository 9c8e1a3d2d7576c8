import type { ProcessingStep } from '../art/processing-steps.ts'
import type { Lab } from '../color/lab.ts'
import type { Press } from '../material/inks.ts'
import type { MapSettings } from '../material/settings.ts'
import type { Assigned } from '../roles/role.ts'
import type { PackedPlane } from './packed-plane.ts'
import type { PlateGroup, PlateMade } from './plate-wish.ts'

/** What is shown where a device has no such ink. Inks 0..1, or L*a*b* (D50) of the solid on white. */
export type Alternate =
  | { readonly space: 'CMYK'; readonly values: readonly [number, number, number, number] }
  | { readonly space: 'Lab'; readonly values: Lab }

/** One ink of the print, as drawn: what the press makes of its tones is not in it. Unscreened. */
export interface InkPlate {
  readonly name: string
  readonly kind: Exclude<PlateMade['kind'], 'dieline'>
  readonly group: PlateGroup
  readonly alternate: Alternate
  /** Opacity of the solid with all its hits, 0..1; null where nobody counts on one. */
  readonly opacity: number | null
  readonly hits: number
  readonly step: ProcessingStep | null
  /** Coverage of the document's pixels, 255 = solid. */
  readonly plane: PackedPlane
  /** Mean coverage, 0..1, and the part of the art with any, 0..1. */
  readonly coverage: number
  readonly printed: number
}

/** What plates are read by. */
export interface SeparateOptions extends MapSettings {
  readonly assigned: readonly Assigned[]
  readonly press: Press
}
