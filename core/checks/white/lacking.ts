import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { bytesOf } from '../plane-bytes.ts'
import { moreHits } from '../remedy.ts'
import { SpotArea } from '../spot-area.ts'
import { mm2, percent, saidLimit } from '../words.ts'
import type { Guarded } from './guarded.ts'
import type { WhiteLimit } from './limits.ts'
import { predictedOpacity } from './predicted.ts'

/** Where a brand colour or a code has less white under it than it needs: not solid, or solid and too thin. */
export function lackingWhite(
  input: Pick<CheckInput, 'map' | 'art' | 'assigned'>,
  guarded: Guarded,
  limit: (key: WhiteLimit) => AppliedLimit,
): readonly CheckFinding[] {
  const { map } = input
  const coverage = limit('white.fullCoverage')
  const opacity = limit('white.fullOpacity')
  const whites = map.whites.map(({ coverage: name }) => bytesOf(map, name))
  const solid = (coverage.value / 100) * 255
  const opaque = new Map<string, number>()
  const all = new SpotArea(map)
  const open = new SpotArea(map)
  const thin = new SpotArea(map)
  let thinnest = 1
  let barest = 255
  for (let y = 0, i = 0; y < map.height; y++)
    for (let x = 0; x < map.width; x++, i++) {
      if (guarded.within[i] === 0) continue
      all.add(x, y)
      const tones = whites.map(plane => plane?.[i] ?? 0)
      const most = Math.max(0, ...tones)
      if (most < solid - 0.5) {
        open.add(x, y)
        barest = Math.min(barest, most)
        continue
      }
      const key = tones.join()
      let reached = opaque.get(key)
      if (reached === undefined) {
        reached = predictedOpacity(
          map.whites,
          tones.map(tone => tone / 255),
        )
        opaque.set(key, reached)
      }
      if (100 * reached >= opacity.value) continue
      thin.add(x, y)
      thinnest = Math.min(thinnest, reached)
    }
  const least = limit('white.leastArea').value
  const severity = guarded.kind === 'code' ? 'error' : 'warning'
  const out: CheckFinding[] = []
  if (open.mm2 > least)
    out.push({
      check: 'white',
      key: `white/lacking ${guarded.key}`,
      severity,
      code: 'white-lacking',
      where: guarded.where,
      message: `${mm2(open.mm2)} of it (${percent(open.pixels / all.pixels)}) lie on foil with less than a full white: it will look metallic and change as it tilts`,
      fix: 'Put a solid white under all of it, a little inside its edge, or call it a tint on metal and take it out of the brand colours.',
      box: open.box,
      held: null,
      measured: { value: Number(((100 * barest) / 255).toFixed(1)), unit: '%' },
      limit: coverage,
      remedy: null,
    })
  if (thin.mm2 > least)
    out.push({
      check: 'white',
      key: `white/thin ${guarded.key}`,
      severity,
      code: 'white-thin',
      where: guarded.where,
      message: `the white under ${mm2(thin.mm2)} of it reaches an opacity of ${percent(thinnest)}; full white is ${saidLimit(opacity)}`,
      fix: 'Print another hit of white there, or take a denser white.',
      box: thin.box,
      held: null,
      measured: { value: Number((100 * thinnest).toFixed(1)), unit: '%' },
      limit: opacity,
      remedy: moreHits(input, hits => 100 * solidOpacity(input, hits) >= opacity.value),
    })
  return out
}

/** Of the only white, printed that often. */
const solidOpacity = ({ map: { whites } }: Pick<CheckInput, 'map'>, hits: number): number =>
  predictedOpacity([{ ...whites[0]!, hits }], [1])
