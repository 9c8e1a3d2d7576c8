import { describe, expect, it } from 'vitest'
import { blankArt, blankHolography, blankWhite } from '../../../core/art/blank.ts'
import { setEffect, setWhite } from '../../../core/job/edit.ts'
import { blankJob } from '../../../core/job/new.ts'
import { jobText, parseJob } from '../../../core/job/parse.ts'
import { relinkArt } from '../../../core/job/relink.ts'
import { addVariant, chooseVariant, keptInVariant } from '../../../core/job/variants.ts'
import { assignRoles } from '../../../core/roles/assign.ts'

/** Our own rules, no outside source. */

const layer = (id: string) => ({ kind: 'layer', id }) as const

describe('a job without art', () => {
  it('has holography all over and white from below, and is told so by the ordinary rules', () => {
    const { art } = blankArt({ widthMm: 60, heightMm: 90, whitePart: 0.25 })
    const roles = assignRoles(art, { aliases: [], choices: [] })
    expect(roles.map(one => [one.target.id, one.role])).toEqual(
      expect.arrayContaining([
        [blankHolography, 'holography'],
        [blankWhite, 'white'],
      ]),
    )
    const white = art.layers.find(one => one.id === blankWhite)
    expect((white?.box.bottom ?? 0) - (white?.box.top ?? 0)).toBe(art.height / 4)
  })

  it('is saved and read again', () => {
    const job = { ...blankJob(60, 90), brief: 'A comet over a quiet front.' }
    expect(parseJob(jobText(job), 'x.job.json')).toEqual(job)
    expect(job.art).toBeNull()
  })

  it('gives its effect and white to the layers of the first art, in every design', () => {
    const white = {
      opacity: { from: 'contrast', value: 0.8 },
      hits: 2,
      mottle: 0,
      screen: 'dots',
      toneGain: 0,
    } as const
    const chosen = setWhite({ ...white, target: layer(blankWhite) })(
      setEffect(layer(blankHolography), { kind: 'lens', parameters: {} })(blankJob(60, 90)),
    )
    const varied = addVariant('Other')(chosen)
    const two = keptInVariant(
      varied,
      setEffect(layer(blankHolography), { kind: 'plain', parameters: {} })(varied),
    )
    const found = [
      { target: layer('3'), name: 'Rings', role: 'holography' },
      { target: layer('5'), name: 'White', role: 'white' },
      { target: layer('7'), name: 'Chart', role: 'overprint' },
    ] as const
    const taken = relinkArt({ art: { path: 'front.psd', sha256: 'a1'.repeat(32) }, found })(two)
    expect(taken.effects).toEqual([{ target: layer('3'), effect: { kind: 'plain', parameters: {} } }])
    expect(taken.whites).toEqual([{ ...white, target: layer('5') }])
    expect(chooseVariant(null)(taken).effects).toEqual([
      { target: layer('3'), effect: { kind: 'lens', parameters: {} } },
    ])
  })
})
