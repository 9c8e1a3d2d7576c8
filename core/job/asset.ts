import type { Turning } from '../effects/object/turn.ts'

/** A file beside the job, by relative path with forward slashes, and what was in it. */
export interface AssetFile {
  readonly path: string
  readonly sha256: string
}

/** Pictures from files, which effects name by id. */
export type Asset = {
  readonly id: string
  readonly files: readonly AssetFile[]
} & AssetKind

export type AssetKind =
  /** Numbered pictures of an object, one a view. */
  | { readonly kind: 'views' }
  /** A model (the first file) with what lies beside it, and how it is turned into views. */
  | { readonly kind: 'model'; readonly turning: Turning }
  /** One picture whose values are heights. */
  | { readonly kind: 'heights' }

export const assetKinds = ['views', 'model', 'heights'] as const
export type AssetKindName = Asset['kind']

/** A name for a new asset that none of these has. */
export function freeAssetId(kind: AssetKindName, assets: readonly Asset[]): string {
  let n = 1
  while (assets.some(one => one.id === `${kind}-${n}`)) n++
  return `${kind}-${n}`
}
