import * as v from 'valibot'
import type { Finding } from '../base/finding.ts'
import { type AssetFile, assetKinds } from '../job/asset.ts'
import { anyJob, fileId, pictureSide, taskId } from './fields.ts'
import type { FileRef } from './file-ref.ts'
import type { Picture } from './picture.ts'

/** Files that were read and found fit, as a job names them until it is saved. */
export interface AddedAsset {
  readonly files: readonly AssetFile[]
  readonly findings: readonly Finding[]
}

/** A print condition's profile that was read and found fit, as a job names it until it is saved. */
export interface AddedProfile {
  readonly file: AssetFile
  /** The profile's own name. */
  readonly name: string
}

/** What an asset shows: its views from left to right, or its heights. */
export interface AssetPictures {
  readonly pictures: readonly Picture[]
  readonly findings: readonly Finding[]
}

/** Files beside the art: what effects show, and the print condition. */
export const assetRequests = {
  /** A profile that the user chose becomes the print condition. */
  addProfile: v.object({ fileId }),
  /** Shows the host's own dialog for one or more files; none when dismissed. */
  chooseAsset: v.object({ kind: v.picklist(assetKinds) }),
  /** Files that the user chose become an asset of that kind. */
  addAsset: v.object({
    kind: v.picklist(assetKinds),
    fileIds: v.pipe(v.array(fileId), v.minLength(1), v.maxLength(1000)),
    taskId,
  }),
  /** Longest side at most `size`. */
  assetPictures: v.object({
    job: anyJob,
    assetId: v.string(),
    size: pictureSide(1024),
  }),
} as const

/** What each of them answers. */
export interface AssetAnswers {
  addProfile: AddedProfile
  chooseAsset: readonly FileRef[]
  addAsset: AddedAsset
  assetPictures: AssetPictures
}
