import { describe, expect, test } from 'vitest'
import * as edit from '../../../core/job/edit.ts'
import { checkJob } from '../../../core/job/parse.ts'
import { relinkArt } from '../../../core/job/relink.ts'
import { plainJob } from '../../support/job.ts'

const comet = { kind: 'layer', id: '1' } as const
const channelOne = { kind: 'channel', id: '1' } as const

describe('edits', () => {
  test('a role is set once a target, in its place, and taken back', () => {
    const first = edit.setRole(comet, 'white', null)(edit.setRole(channelOne, 'varnish', null)(plainJob))
    const second = edit.setRole(channelOne, 'white', { from: 'plane' })(first)
    expect(second.roles).toEqual([
      { target: channelOne, role: 'white', amount: { from: 'plane' } },
      { target: comet, role: 'white', amount: null },
    ])
    expect(edit.clearRole(channelOne)(second).roles).toEqual([first.roles[1]])
    expect(plainJob.roles).toEqual([])
  })

  test('a word taught twice has its last role', () => {
    const job = edit.teachWord('Glanz', 'white')(edit.teachWord('Glanz', 'varnish')(plainJob))
    expect(job.aliases).toEqual([{ word: 'Glanz', role: 'white' }])
    expect(edit.forgetWord('Glanz')(job).aliases).toEqual([])
  })

  test('effects and whites', () => {
    const effect = { kind: 'radial', parameters: { pitchNm: 900 } }
    const white = {
      target: comet,
      opacity: { from: 'contrast', value: 0.7 },
      hits: 2,
      mottle: 0,
      screen: 'dots',
      toneGain: 0,
    } as const
    const job = edit.setWhite(white)(edit.setEffect(comet, effect)(plainJob))
    expect(job.effects).toEqual([{ target: comet, effect }])
    expect(job.whites).toEqual([white])
    expect(edit.clearWhite(comet)(edit.clearEffect(comet)(job))).toEqual(plainJob)
  })

  test('a note of a measurement is kept once, and taken back when empty', () => {
    const noted = edit.setMeasured(
      'waviness',
      'profilometer, lot 7',
    )(edit.setMeasured('waviness', 'by eye')(plainJob))
    expect(noted.measured).toEqual([{ key: 'waviness', note: 'profilometer, lot 7' }])
    expect(edit.setMeasured('waviness', ' ')(noted)).toEqual(plainJob)
  })

  test('numbers of panel, board, light and view change alone', () => {
    const job = edit.setView({ exposureStops: 1 })(
      edit.setLight({ roomLevel: 0.3 })(
        edit.setBoard({ wavinessMrad: 5 })(edit.setPanel({ widthMm: 90 })(plainJob)),
      ),
    )
    expect(job.panel).toEqual({ ...plainJob.panel, widthMm: 90 })
    expect(job.board).toEqual({ ...plainJob.board, wavinessMrad: 5 })
    expect(job.light).toEqual({ ...plainJob.light, roomLevel: 0.3 })
    expect(job.view).toEqual({ ...plainJob.view, exposureStops: 1 })
    expect(job.paths).toBe(plainJob.paths)
  })

  test('a path is added, replaced in its place, and removed', () => {
    const still = { ...plainJob.paths[2]!, name: 'Window' }
    const added = edit.putPath(still)(plainJob)
    expect(added.paths.at(-1)).toEqual(still)
    const slower = { ...plainJob.paths[0]!, loop: false }
    expect(edit.putPath(slower)(added).paths[0]).toEqual(slower)
    expect(edit.removePath('Window')(added)).toEqual(plainJob)
  })

  test('edited jobs are read again', () => {
    const pose = { tiltForwardDeg: 5, tiltSideDeg: -3, turnDeg: 12 }
    const job = relinkArt({ art: { path: 'b.psd', sha256: 'f'.repeat(64) }, found: [] })(
      edit.setStanding({ ...plainJob.light.lamps[0].pose, azimuthDeg: -10 }, pose)(plainJob),
    )
    expect(checkJob(job, 'x.json')).toEqual(job)
    expect(job.view.pose).toEqual(pose)
  })

  test('how the art is read is kept whole, and back to the usual leaves nothing behind', () => {
    const beside = [{ path: 'art/front.svg', sha256: 'c'.repeat(64) }]
    const job = edit.setReading({ page: 2, ppi: 450, readAs: 'layers', beside })(plainJob)
    expect(checkJob(job, 'x.json').art).toEqual({
      ...plainJob.art,
      page: 2,
      ppi: 450,
      readAs: 'layers',
      beside,
    })
    expect(edit.setReading({})(job)).toEqual(plainJob)
    for (const wrong of [{ page: 0 }, { page: 1.5 }, { ppi: 20 }, { beside: [{ path: 'a.svg' }] }])
      expect(() => checkJob({ ...job, art: { ...job.art, ...wrong } }, 'x.json')).toThrow(/field "art\./)
  })
})
