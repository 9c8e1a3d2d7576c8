import { describe, expect, it } from 'vitest'
import {
  clearEffect,
  putOutline,
  removeOutline,
  setBoard,
  setEffect,
  setWhiteInk,
} from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { blankJob } from '../../../core/job/new.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import {
  addVariant,
  chooseVariant,
  designs,
  dropChange,
  effectElsewhere,
  keptInVariant,
  removeVariant,
} from '../../../core/job/variants.ts'

/** Our own rules, no outside source: what a design shows follows from what was decided in it and in the base. */

const target = { kind: 'layer', id: 'blank-holography' } as const
const effect = (kind: string) => setEffect(target, { kind, parameters: {} })
const edit = (job: Job, change: (job: Job) => Job): Job => keptInVariant(job, change(job))
const base = edit(blankJob(60, 90), effect('plain'))
const bold = edit(addVariant('Effect-led')(base), effect('lens'))

describe('variants', () => {
  it('an edit in a variant leaves the base as it was, and is there again when the variant is chosen', () => {
    expect(bold.effects[0]?.effect.kind).toBe('lens')
    expect(chooseVariant(null)(bold).effects).toEqual(base.effects)
    expect(chooseVariant(0)(chooseVariant(null)(bold))).toEqual(bold)
  })

  it('an edit of the base reaches the variants that have not changed the same', () => {
    const later = edit(chooseVariant(null)(bold), job => setBoard({ wavinessMrad: 7 })(effect('coded')(job)))
    const shown = chooseVariant(0)(later)
    expect(shown.board.wavinessMrad).toBe(7)
    expect(shown.effects[0]?.effect.kind).toBe('lens')
  })

  it('what is shared is edited in every design at once', () => {
    const renamed = edit(bold, job => ({ ...job, brief: 'Quiet front' }))
    expect(designs(renamed).map(one => one.job.brief)).toEqual(['Quiet front', 'Quiet front'])
  })

  it('a variant goes back to the base field by field, and away as a whole', () => {
    const two = edit(bold, setWhiteInk({ forwardness: 0.3 }))
    const back = dropChange('effects')(two)
    expect(back.effects).toEqual(base.effects)
    expect(back.whiteInk.forwardness).toBe(0.3)
    const gone = removeVariant(0)(two)
    expect(gone).toEqual({ ...base, variants: [], variant: null, aside: {} })
  })

  it('there are two to four designs, and the shown one follows when another goes', () => {
    const many = ['b', 'c', 'd'].reduce((job, name) => addVariant(name)(job), bold)
    expect(many.variants).toHaveLength(3)
    const shown = removeVariant(0)(many)
    expect(shown.variants.map(one => one.name)).toEqual(['b', 'c'])
    expect(shown.variant).toBe(1)
  })

  it('an area drawn in one design is not in the others, may have another effect in each, and goes from all at once', () => {
    const area = { kind: 'outline', id: 'ring' } as const
    const ring = {
      id: 'ring',
      name: 'Ring',
      rings: [
        [
          [1, 1],
          [9, 1],
          [5, 9],
        ],
      ],
    } as const
    const has = (job: Job) => job.effects.find(one => one.target.id === 'ring')?.effect.kind
    const drawn = edit(bold, job =>
      setEffect(area, { kind: 'mosaic', parameters: {} })(putOutline(ring)(job)),
    )
    const kinds = (job: Job) => designs(job).map(one => has(one.job))
    expect(kinds(drawn)).toEqual([undefined, 'mosaic'])
    expect(effectElsewhere(chooseVariant(null)(drawn), area)?.kind).toBe('mosaic')
    const both = edit(chooseVariant(null)(drawn), setEffect(area, { kind: 'wave', parameters: {} }))
    expect(kinds(both)).toEqual(['wave', 'mosaic'])
    const led = edit(chooseVariant(0)(both), clearEffect(area))
    expect(kinds(led)).toEqual(['wave', undefined])
    for (const shown of [both, chooseVariant(0)(both), led]) {
      const gone = edit(shown, removeOutline('ring'))
      expect(kinds(gone)).toEqual([undefined, undefined])
      expect(gone.outlines).toEqual([])
      expect(effectElsewhere(gone, area)).toBeNull()
      expect(parseJob(jobText(gone), 'x.job.json')).toEqual(gone)
    }
  })

  it('a saved job has them again; an index past the last is refused', () => {
    expect(parseJob(jobText(bold), 'x.job.json')).toEqual(bold)
    expect(() => checkJob({ ...bold, variant: 3 }, 'x.job.json')).toThrow(/variant/)
  })
})
