import type { Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { moreHits } from '../remedy.ts'
import { mm2, saidLimit } from '../words.ts'
import type { Bleed } from './bleed.ts'
import { type Build, buildsOf } from './builds.ts'
import type { WhiteLimit } from './limits.ts'

/**
 * How far the metal shifts the colours that lie on white: the worst build of an area, by the instrument's geometry and in
 * the worst position of the hand.
 * @param area.within one byte a pixel, 0 = not of it; pixels without white are no bleed, they are bare
 */
export function bleeding(
  input: Pick<CheckInput, 'map' | 'art' | 'assigned'>,
  area: { readonly key: string; readonly where: string; readonly within: Uint8Array },
  bleedAt: (x: number, y: number) => Bleed,
  limit: (key: WhiteLimit) => AppliedLimit,
  task?: Task,
): readonly CheckFinding[] {
  const { map } = input
  const least = limit('white.leastArea').value
  const builds = buildsOf(map, area.within, task)
    .filter(one => one.mm2 > least)
    .map(build => ({ build, bleed: bleedAt(build.x, build.y) }))
  const straight = worstOf(builds, bleed => bleed.difference)
  const tilted = worstOf(builds, bleed => bleed.tilted.difference)
  const still = limit('white.bleedDifference')
  const moving = limit('white.tiltDifference')
  const out: CheckFinding[] = []
  if (straight !== null && straight.bleed.difference > still.value) {
    const { build, bleed } = straight
    const [built, white] = [bleed.built, bleed.onWhite].map(lab => lab.map(v => Math.round(v)).join(' / '))
    out.push({
      check: 'white',
      key: `white/bleed ${area.key}`,
      severity: 'warning',
      code: 'metal-bleed',
      where: area.where,
      message: `with its white on foil ${mm2(build.mm2)} of it read L*a*b* ${built}, the same on white board ${white}: ${said(bleed.difference)} ΔE00 apart (limit ${saidLimit(still)})`,
      fix: 'Print another hit of white, take a denser white, or agree the colour over this white with the client.',
      box: build.box,
      held: null,
      measured: { value: Number(said(bleed.difference)), unit: 'ΔE00' },
      limit: still,
      remedy: moreHits(input),
    })
  }
  if (tilted !== null && tilted.bleed.tilted.difference > moving.value) {
    const { difference, held } = tilted.bleed.tilted
    out.push({
      check: 'white',
      key: `white/bleed-tilted ${area.key}`,
      severity: 'note',
      code: 'metal-bleed-tilted',
      where: area.where,
      message: `in one position of the hand the metal shifts ${mm2(tilted.build.mm2)} of it by ${said(difference)} ΔE00 (limit ${saidLimit(moving)})`,
      fix: 'Look at it held that way; more white takes the metal away.',
      box: tilted.build.box,
      held,
      measured: { value: Number(said(difference)), unit: 'ΔE00' },
      limit: moving,
      remedy: null,
    })
  }
  return out
}

type Read = { readonly build: Build; readonly bleed: Bleed }

const worstOf = (all: readonly Read[], of: (bleed: Bleed) => number): Read | null =>
  all.reduce<Read | null>(
    (worst, one) => (worst === null || of(one.bleed) > of(worst.bleed) ? one : worst),
    null,
  )

const said = (value: number): string => value.toFixed(1)
