import { describe, expect, it } from 'vitest'
import { cartonFor } from '../../core/job/carton.ts'
import { setOverlay } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { pyramid } from '../../core/material/mip.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { asPrinted, isPrint } from '../../core/reference/overlay.ts'
import { layOf } from '../../core/reference/overlay-lay.ts'
import { read } from '../../renderer/scene/reading.ts'
import { besideReading, bothLaid } from '../../renderer/state/laid.ts'
import { sceneOf } from '../../renderer/state/look.ts'
import { runStart } from '../../renderer/state/state.ts'
import { plainJob } from '../support/job.ts'
import { paintMap } from '../support/paint-map.ts'

const scenes = (job: Job) => bothLaid(job).map(one => sceneOf(one.job, runStart))

describe('print and film proof beside each other', () => {
  it('differ in how the leaves are laid, and in nothing else', () => {
    for (const job of [plainJob, setOverlay({ laid: 'film' }, { gapMm: 0.2 })(plainJob)]) {
      const [print, film] = bothLaid(job)
      expect([print.caption, film.caption]).toEqual(['As printed', 'As a film proof'])
      expect(isPrint(print.job.view.overlay)).toBe(true)
      const overlay = { ...asPrinted, ...job.view.overlay, laid: 'film' }
      expect(film.job.view.overlay).toEqual(overlay)
      const { view, ...rest } = film.job
      expect({ ...rest, view: { ...view, overlay: print.job.view.overlay } }).toEqual(print.job)
      expect(scenes(job).map(scene => layOf(scene, job.panel) === null)).toEqual([true, false])
    }
  })

  it('keep what is lifted and hidden, and say so', () => {
    const shown = { ...asPrinted.shown, white: false }
    const captions = bothLaid(setOverlay({ lift: 0.4, shown })(plainJob)).map(one => one.caption)
    expect(captions).toEqual([
      'As printed, lifted 40 %, without white',
      'As a film proof, lifted 40 %, without white',
    ])
  })

  it('a carton lies open in both', () => {
    const folded = { ...plainJob, carton: cartonFor(plainJob.panel) }
    expect(sceneOf(folded, runStart).solid).toBeDefined()
    expect(scenes(folded).map(scene => scene.solid)).toEqual([undefined, undefined])
  })
})

describe('a spot in both', () => {
  // CIEDE2000 of Sharma, Wu & Dalal (2005), table 1, row 1; printed to 4 decimals.
  it('is apart by CIEDE2000', () => {
    const found = besideReading(
      { lab: [50, 2.6772, -79.7751] },
      { lab: [50, 0, -82.7485], css: 'rgb(1 2 3)' },
    )
    expect(found?.css).toBe('rgb(1 2 3)')
    expect(Math.abs((found?.deltaE ?? 0) - 2.0425)).toBeLessThanOrEqual(5e-5)
  })

  it('has no number where it is out of sight in either', () => {
    const seen = { lab: [50, 0, 0], css: 'rgb(0 0 0)' } as const
    const hidden = { lab: null, css: null }
    expect(besideReading(hidden, seen)).toBeNull()
    expect(besideReading(seen, hidden)).toBeNull()
    expect(besideReading(null, seen)).toBeNull()
    expect(besideReading(seen, null)).toBeNull()
  })

  it('differs where the film lies, and agrees where the hand laid the film beside it', () => {
    const sideMm = 60
    const plan = {
      size: 64,
      sideMm,
      gratings: 0,
      whites: [{ opacity: 0.7, hits: 1 }],
      spots: [],
      varnish: false,
    }
    // Bare board without metal on the left half, cyan on white over metal on the right.
    const map = paintMap(plan, x => ({
      metal: x > 0 ? 1 : 0,
      cmyk: [x > 0 ? 0.8 : 0, 0, 0, 0],
      whites: [x > 0 ? 1 : 0],
    }))
    const job = setOverlay({}, { registerMm: [5, 0] })(plainJob)
    const both = scenes(job)
    const tables = bakingsOf(both[0]!, map).map(bakeTables)
    const at = (xMm: number) => {
      const [print, film] = both.map(scene => read(scene, pyramid(map), tables, { xMm, yMm: 30 }))
      return besideReading(print ?? null, film ?? null)?.deltaE
    }
    expect(at(2)).toBe(0)
    // Two surfaces, crossed twice, take some tenth of the board's light.
    expect(at(15)).toBeGreaterThan(1)
    // The ink of the film begins 5 mm further to the right.
    expect(at(32)).toBeGreaterThan(10)
  })
})
