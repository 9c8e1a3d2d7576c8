import type { EffectSpec } from '../effects/effect.ts'
import type { EffectTarget, Outline } from '../effects/outline.ts'
import type { ViewImage } from '../effects/view-image.ts'
import type { SpotInk } from '../optics/ink.ts'
import type { WhiteScreen } from '../optics/matter.ts'
import type { OpacityEntry } from '../optics/opacity.ts'
import type { Target } from '../roles/role.ts'
import type { MadeWhite } from './made-white.ts'

/** What of a job the map depends on. */
export interface MapSettings {
  /** Finished size, over which the art is stretched. */
  readonly panel: { readonly widthMm: number; readonly heightMm: number; readonly resolutionPpi: number }
  /** Pictures from files by their asset's id, for effects that name one. */
  readonly views?: (assetId: string) => readonly ViewImage[] | undefined
  readonly effects: readonly { readonly target: EffectTarget; readonly effect: EffectSpec }[]
  /** Shapes that effects may have as their area; left out: none. */
  readonly outlines?: readonly Outline[]
  readonly whites: readonly {
    readonly target: Target
    readonly opacity: OpacityEntry
    readonly hits: number
    readonly mottle?: number
    readonly screen?: WhiteScreen
    /** Tone value that the plate gains at 50 %, 0..0.35. */
    readonly toneGain?: number
  }[]
  /** A white made of the art beside those that the file has; left out or null: none. */
  readonly made?: MadeWhite | null
  /** What was measured of spot inks; it goes before what the file says. */
  readonly spots?: readonly (SpotInk & { readonly target: Target })[]
}
