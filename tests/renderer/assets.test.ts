import { describe, expect, it } from 'vitest'
import type { EffectSpec } from '../../core/effects/effect.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import { setEffect } from '../../core/job/edit.ts'
import { newJob } from '../../core/job/new.ts'
import { chooseAsset, createAssetPreviews } from '../../renderer/state/assets.ts'
import { firstState } from '../../renderer/state/state.ts'
import { begin, undo } from '../../renderer/state/steps.ts'
import { fakeDesk } from '../support/fake-desk.ts'
import { chartArt, type FakePlan } from '../support/fake-host.ts'

/** How chosen files get into the job. No outside source: our own rules. */

const rings = { kind: 'layer', id: '3' } as const
const object: EffectSpec = { kind: 'object-views', parameters: { scalePercent: 80 } }

function desk(plan: FakePlan = {}) {
  const job = newJob(chartArt, 'a1'.repeat(32), 'front.psd', [])
  const made = fakeDesk(plan, begin(firstState, job, job))
  const now = () => {
    const { job } = made.store.get()
    if (job === null) throw new Error('no job')
    return job
  }
  return { ...made, now }
}

describe('files chosen for an effect', () => {
  it('become an asset that the effect names, in one step', async () => {
    const d = desk()
    await chooseAsset(d, 'model', rings, object, 'assetId')
    expect(d.now().assets).toMatchObject([{ id: 'model-1', kind: 'model', turning: { views: 9 } }])
    expect(d.now().effects).toEqual([
      {
        target: rings,
        effect: { kind: 'object-views', parameters: { scalePercent: 80, assetId: 'model-1' } },
      },
    ])
    d.store.set(undo)
    expect(d.now().assets).toEqual([])
    expect(d.now().effects).toEqual([])
  })

  it('chosen again keep their id and how the model is turned; of another kind they replace it', async () => {
    const d = desk()
    await chooseAsset(d, 'model', rings, object, 'assetId')
    const turned = d
      .now()
      .assets.map(one => (one.kind === 'model' ? { ...one, turning: { ...one.turning, turnDeg: 30 } } : one))
    d.store.set(state => ({ ...state, job: { ...d.now(), assets: turned } }))
    const effect = d.now().effects[0]!.effect
    await chooseAsset(d, 'model', rings, effect, 'assetId')
    expect(d.now().assets).toMatchObject([{ id: 'model-1', turning: { turnDeg: 30 } }])
    await chooseAsset(d, 'views', rings, effect, 'assetId')
    expect(d.now().assets.map(one => one.id)).toEqual(['views-1'])
  })

  it('do not touch the assets that other effects name', async () => {
    const d = desk()
    await chooseAsset(d, 'model', rings, object, 'assetId')
    const effect = d.now().effects[0]!.effect
    d.store.set(state => ({ ...state, job: setEffect({ kind: 'layer', id: '4' }, effect)(d.now()) }))
    await chooseAsset(d, 'model', { kind: 'layer', id: '5' }, object, 'assetId')
    expect(d.now().assets.map(one => one.id)).toEqual(['model-1', 'model-2'])
  })

  it('dismissed or unfit change nothing; the latter is said', async () => {
    const dismissed = desk({ over: { chooseAsset: async () => [] as readonly FileRef[] } })
    const before = dismissed.now()
    await chooseAsset(dismissed, 'views', rings, object, 'assetId')
    expect(dismissed.now()).toBe(before)
    expect(dismissed.host.asked).not.toContain('addAsset')
    const unfit = desk({
      over: {
        addAsset: async () => {
          throw new Error('comet.png: has no number in its name')
        },
      },
    })
    await chooseAsset(unfit, 'views', rings, object, 'assetId')
    expect(unfit.store.get().session.message?.text).toContain('comet.png')
    expect(unfit.now().assets).toEqual([])
  })
})

describe('pictures of assets', () => {
  it('are asked for once, and again once the asset has changed or they failed', async () => {
    let asked = 0
    let fails = false
    const { host, now } = desk({
      over: {
        assetPictures: async () => {
          asked++
          if (fails) throw new Error('gone')
          return { pictures: [], findings: [] }
        },
      },
    })
    const previews = createAssetPreviews(host)
    const asset = { id: 'views-1', kind: 'views', files: [] } as const
    await Promise.all([previews.get(asset, now()), previews.get(asset, now())])
    expect(asked).toBe(1)
    fails = true
    const other = { ...asset, files: [{ path: 'a1.png', sha256: 'c'.repeat(64) }] }
    await expect(previews.get(other, now())).rejects.toThrow('gone')
    fails = false
    await previews.get(other, now())
    expect(asked).toBe(3)
  })
})
