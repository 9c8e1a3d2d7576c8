import { describe, expect, it } from 'vitest'
import { usualTurning } from '../../../core/effects/object/turn.ts'
import { type Asset, freeAssetId } from '../../../core/job/asset.ts'
import { dropUnusedAssets, putAsset, setEffect } from '../../../core/job/edit.ts'
import { newJob } from '../../../core/job/new.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { chartArt } from '../../support/fake-host.ts'

/** The job's field for pictures from files. No outside source: our own format. */

const job = newJob(chartArt, 'a'.repeat(64), 'front.psd', [])
const file = { path: 'views/comet-1.png', sha256: 'b'.repeat(64) }
const views: Asset = { id: 'views-1', kind: 'views', files: [file] }
const model: Asset = { id: 'model-1', kind: 'model', files: [file], turning: usualTurning }
const heights: Asset = { id: 'heights-1', kind: 'heights', files: [file] }

describe('assets in a job', () => {
  it('survive the file', () => {
    const full = { ...job, assets: [views, model, heights] }
    expect(parseJob(jobText(full), 'a.job.json')).toEqual(full)
  })

  it('are none in a job that was written before there were any', () => {
    const { assets: _, ...older } = job
    expect(checkJob(older, 'a.job.json').assets).toEqual([])
  })

  it.each<[unknown, RegExp]>([
    [{ ...views, files: [] }, /assets\.0\.files.*at least one file/],
    [{ ...views, kind: 'movie' }, /assets\.0.*views, a model or heights/],
    [{ ...views, files: [{ ...file, sha256: 'xyz' }] }, /assets\.0\.files\.0\.sha256.*64 hexadecimal/],
    [{ ...views, turning: usualTurning }, /assets\.0\.turning.*does not know/],
    [{ id: 'm', kind: 'model', files: [file] }, /assets\.0\.turning/],
    [{ ...model, turning: { ...usualTurning, views: 17 } }, /turning\.views.*2 to 16/],
    [{ ...model, turning: { ...usualTurning, views: 2.5 } }, /turning\.views.*whole number/],
    [{ ...model, turning: { ...usualTurning, fanDeg: Number.NaN } }, /turning\.fanDeg/],
    [{ ...model, turning: { ...usualTurning, eyeLengths: 0 } }, /turning\.eyeLengths/],
    [null, /assets\.0/],
  ])('%j is refused by its field', (asset, reason) => {
    expect(() => checkJob({ ...job, assets: [asset] }, 'a.job.json')).toThrow(reason)
  })

  it('have ids of their own', () => {
    expect(() => checkJob({ ...job, assets: [views, views] }, 'a.job.json')).toThrow(/same id/)
    expect(freeAssetId('views', [views, { ...views, id: 'views-3' }])).toBe('views-2')
  })

  it('are put in place of the one with their id, and dropped once no effect names them', () => {
    const target = { kind: 'layer', id: '3' } as const
    const both = putAsset(model)(putAsset(views)(job))
    const turned = putAsset({ ...model, turning: { ...usualTurning, turnDeg: 9 } })(both)
    expect(turned.assets.map(one => one.id)).toEqual(['views-1', 'model-1'])
    const used = setEffect(target, { kind: 'object-views', parameters: { assetId: 'model-1' } })(turned)
    expect(dropUnusedAssets(used).assets.map(one => one.id)).toEqual(['model-1'])
    expect(dropUnusedAssets(dropUnusedAssets(used))).toEqual(dropUnusedAssets(used))
  })
})
