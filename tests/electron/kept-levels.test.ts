import { expect, test } from 'vitest'
import { blankArt } from '../../core/art/blank.ts'
import { setLight } from '../../core/job/edit.ts'
import { blankJob } from '../../core/job/new.ts'
import { pyramid } from '../../core/material/mip.ts'
import type { JobWork } from '../../electron/art-work.ts'
import { KeptLevels } from '../../electron/kept-levels.ts'
import { paintMap } from '../support/paint-map.ts'

/** Our own rules, no outside source. */
const painted = (cyan: number) =>
  paintMap({ size: 32, sideMm: 20, gratings: 0, whites: [], spots: [], varnish: false }, x => ({
    metal: 1,
    cmyk: [x > 0 ? cyan : 0, 0, 0, 0],
  }))

test('coarser levels are those of the map, and stay while only light and view change', () => {
  const job = blankJob(20, 20)
  const { art } = blankArt({ widthMm: 20, heightMm: 20, whitePart: 0 })
  const work = (change: Partial<typeof job> = {}): JobWork => ({
    job: { ...job, ...change },
    assets: [],
    profile: null,
  })
  const kept = new KeptLevels()
  const map = painted(0.4)
  const first = kept.of(map, art, work())
  expect(first).toEqual(pyramid(map))
  // Made anew with nothing changed.
  const again = { ...map }
  const second = kept.of(again, art, { ...work(), job: setLight({ roomLevel: 0.9 })(job) })
  expect(second[0]).toBe(again)
  expect(second.slice(1).every((level, i) => level === first[i + 1])).toBe(true)

  const other = painted(0.9)
  const turned = kept.of(other, art, work({ nestTurnDeg: 90 }))
  expect(turned).toEqual(pyramid(other))
  expect(turned[1]).not.toEqual(first[1])
  // Other art under the same job.
  expect(kept.of(map, { ...art }, work({ nestTurnDeg: 90 }))).toEqual(pyramid(map))
})
