import type { EffectFrame, EffectKind } from '../../../core/effects/effect.ts'
import type { Outline } from '../../../core/effects/outline.ts'
import type { AssetPictures } from '../../../core/host/assets.ts'
import type { Picture } from '../../../core/host/picture.ts'
import type { Asset, AssetKindName } from '../../../core/job/asset.ts'
import type { Job } from '../../../core/job/job.ts'
import type { PresetActions } from './PresetFields.tsx'

/** What an effect can take its pictures from, and how they are had. */
export interface EffectSources {
  /** Name of the layer that has the effect. */
  readonly ownName: string
  readonly layers: readonly { readonly id: string; readonly name: string }[]
  /** Shapes of the job, for effects that run along one. */
  readonly outlines: readonly Outline[]
  /** Where the effect lies, for what is said about it. */
  readonly frame: EffectFrame
  /** How the carton lies on the sheet. */
  readonly nestTurnDeg: Job['nestTurnDeg']
  readonly onNestTurn: (turn: Job['nestTurnDeg']) => void
  /** Whether the area is painted, so that it has tones of its own. */
  readonly hasOwnTones: boolean
  readonly presets: PresetActions
  /** Finished size; pictures of layers cover it whole. */
  readonly panel: { readonly widthMm: number; readonly heightMm: number }
  /** A layer's picture as the file shows it; null is the effect's own layer. */
  readonly picture: (layerId: string | null) => Promise<Picture>
  /** Changes when the art does. */
  readonly artKey: string
  readonly assets: readonly Asset[]
  readonly assetPictures: (asset: Asset) => Promise<AssetPictures>
  /** Lets the user choose files; they become an asset whose id goes into the parameter `key`. */
  readonly onChoose: (kind: AssetKindName, key: string) => void
  readonly onAsset: (asset: Asset, gesture: string) => void
}

/** What a card of an effect with pictures is given. */
export interface PictureCardProps {
  readonly kind: EffectKind
  /** With the kind's defaults filled in. */
  readonly parameters: Readonly<Record<string, unknown>>
  readonly sources: EffectSources
  readonly put: (change: Readonly<Record<string, unknown>>, gesture: string | null) => void
  readonly onSettle: () => void
}
