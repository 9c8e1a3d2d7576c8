import type { EffectSpec } from '../../core/effects/effect.ts'
import { usualTurning } from '../../core/effects/object/turn.ts'
import type { EffectTarget } from '../../core/effects/outline.ts'
import type { AssetPictures } from '../../core/host/assets.ts'
import type { Host } from '../../core/host/contract.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import { type Asset, type AssetKindName, freeAssetId } from '../../core/job/asset.ts'
import { dropUnusedAssets, putAsset, setEffect } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import type { Desk } from './open.ts'
import { decide } from './steps.ts'
import { report, withProgress } from './work.ts'

/** Lets the user choose files for an effect; once they are read and found fit, the effect's parameter names them. */
export async function chooseAsset(
  desk: Desk,
  kind: AssetKindName,
  target: EffectTarget,
  effect: EffectSpec,
  key: string,
): Promise<void> {
  const { store, host } = desk
  try {
    const files = await pickFiles(desk, kind)
    if (files.length === 0) return
    const added = await withProgress(store, host, 'Reading the pictures', true, taskId =>
      host('addAsset', { kind, fileIds: files.map(file => file.id), taskId }),
    )
    if (added === null) return
    store.set(state => {
      if (state.job === null) return state
      const known = state.job.assets.find(one => one.id === effect.parameters[key])
      // Files chosen again keep their id and how their model is turned.
      const id = known?.kind === kind ? known.id : freeAssetId(kind, state.job.assets)
      const asset: Asset =
        kind === 'model'
          ? { id, kind, files: added.files, turning: known?.kind === kind ? known.turning : usualTurning }
          : { id, kind, files: added.files }
      const parameters = { ...effect.parameters, [key]: id }
      return decide(
        state,
        job => dropUnusedAssets(setEffect(target, { ...effect, parameters })(putAsset(asset)(job))),
        null,
      )
    })
  } catch (error) {
    report(store, error)
  }
}

async function pickFiles(desk: Desk, kind: AssetKindName): Promise<readonly FileRef[]> {
  if (desk.store.get().session.about?.files !== 'upload') return desk.host('chooseAsset', { kind })
  const files = await desk.page.pickAsset(kind)
  return Promise.all(files.map(file => desk.host.adopt(file)))
}

/** What assets show, asked for once each. */
export interface AssetPreviews {
  get(asset: Asset, job: Job): Promise<AssetPictures>
}

/** Longest side of a view, pixels: twice what the largest of them is shown at. */
const size = 512

export function createAssetPreviews(host: Host): AssetPreviews {
  let last: { readonly key: string; readonly pictures: Promise<AssetPictures> } | null = null
  return {
    get(asset, job) {
      const key = JSON.stringify(asset)
      if (last?.key === key) return last.pictures
      const pictures = host('assetPictures', { job: { ...job }, assetId: asset.id, size })
      const mine = { key, pictures }
      last = mine
      pictures.catch(() => {
        if (last === mine) last = null
      })
      return pictures
    },
  }
}
