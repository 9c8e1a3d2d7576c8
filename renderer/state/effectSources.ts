import type { EffectSpec } from '../../core/effects/effect.ts'
import { boundsOf, type EffectTarget } from '../../core/effects/outline.ts'
import { putAsset, putPreset, removePreset, renamePreset, setNestTurn } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { frameOf } from '../../core/material/frame.ts'
import { leavesOf } from '../../core/roles/members.ts'
import type { EffectSources } from '../panels/effects/sources.ts'
import { type AssetPreviews, chooseAsset } from './assets.ts'
import type { Desk } from './open.ts'
import type { Previews } from './previews.ts'
import { assignedTo } from './stack.ts'
import type { OpenArt } from './state.ts'

/** What the window has for its effects. */
export interface EffectDesk {
  readonly desk: Desk
  readonly job: Job
  readonly art: OpenArt
  readonly previews: Previews
  readonly assetPreviews: AssetPreviews
  readonly change: (edit: (job: Job) => Job, gesture?: string | null) => void
}

/** Longest side of a preview, px: enough to look at a part of it. */
export const previewSize = 256

/** What an effect of an area can show and follow, and how it is kept. */
export function effectSources(
  { desk, job, art, previews, assetPreviews, change }: EffectDesk,
  target: EffectTarget,
  name: string,
  effect: EffectSpec,
): EffectSources {
  const pictureOf = (of: EffectTarget) => {
    if (of.kind === 'outline') return Promise.reject(new Error('an outline has no picture'))
    const { role, amount } = assignedTo(art.assigned, of) ?? {
      role: 'ignore',
      amount: { from: 'alpha' } as const,
    }
    const wanted = {
      fileId: art.file.id,
      target: of,
      show: 'colour',
      role,
      amount,
      size: previewSize,
    } as const
    return previews.get(wanted, job)
  }
  return {
    ownName: name,
    layers: art.art.layers.filter(layer => layer.kind !== 'group' && layer.id !== target.id),
    outlines: job.outlines,
    frame: {
      ...placeOf(job, art, target),
      pixelMm: 25.4 / job.panel.resolutionPpi,
      outlines: outlineOf(job),
    },
    nestTurnDeg: job.nestTurnDeg,
    onNestTurn: turn => change(setNestTurn(turn)),
    hasOwnTones: target.kind === 'layer',
    presets: {
      presets: job.presets,
      onSave: (preset, kept) => change(putPreset(preset, kept)),
      onRename: (preset, next) => change(renamePreset(preset, next)),
      onRemove: preset => change(removePreset(preset)),
    },
    panel: job.panel,
    picture: layerId => pictureOf(layerId === null ? target : { kind: 'layer', id: layerId }),
    artKey: `${art.file.id} ${target.kind} ${target.id}`,
    assets: job.assets,
    assetPictures: asset => assetPreviews.get(asset, job),
    onChoose: (kind, key) => void chooseAsset(desk, kind, target, effect, key),
    onAsset: (asset, gesture) => change(putAsset(asset), `${asset.id} ${gesture}`),
  }
}

const outlineOf = (job: Job) => (id: string) => job.outlines.find(one => one.id === id)

/** Middle and size of the area that an effect lies in, mm. */
export function placeOf(job: Job, art: OpenArt, target: EffectTarget) {
  const bounds = target.kind === 'outline' ? boundsOf(outlineOf(job)(target.id) ?? { rings: [] }) : null
  if (bounds !== null)
    return {
      centerXMm: (bounds.leftMm + bounds.rightMm) / 2,
      centerYMm: (bounds.bottomMm + bounds.topMm) / 2,
      widthMm: bounds.rightMm - bounds.leftMm,
      heightMm: bounds.topMm - bounds.bottomMm,
    }
  const { views: _, ...place } = frameOf(
    art.art,
    target.kind === 'layer' ? leavesOf(art.art, target.id) : [],
    job.panel,
  )
  return place
}
