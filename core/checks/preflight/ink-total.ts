import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { bytesOf, inksOf } from '../plane-bytes.ts'
import { SpotArea } from '../spot-area.ts'
import { mm2, saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'

/** Process and spot inks together where they are too much; white is told apart. */
export function inkTotalFindings(input: CheckInput): readonly CheckFinding[] {
  const { map } = input
  const limit = limitOf(input)
  const inks = inksOf(map).map(({ data }) => data)
  const whites = map.whites.flatMap(({ coverage, hits }) => {
    const data = bytesOf(map, coverage)
    return data === null ? [] : [{ data, hits }]
  })
  const metal = bytesOf(map, 'metal')
  const grounds = [
    { of: 'foil', where: 'total ink on foil', by: limit('preflight.inkOnFoil') },
    { of: 'board', where: 'total ink on board', by: limit('preflight.inkOnBoard') },
  ] as const
  const seen = grounds.map(() => ({ area: new SpotArea(map), most: 0, white: 0 }))
  for (let y = 0, i = 0; y < map.height; y++)
    for (let x = 0; x < map.width; x++, i++) {
      let total = 0
      for (let p = 0; p < inks.length; p++) total += inks[p]![i]!
      const ground = (metal?.[i] ?? 255) >= 128 ? 0 : 1
      // Tones are whole 255ths: a build on the limit may be rounded over it by one each.
      if (total <= 2.55 * grounds[ground].by.value + inks.length / 2) continue
      const one = seen[ground]!
      one.area.add(x, y)
      if (total <= one.most) continue
      one.most = total
      one.white = whites.reduce((sum, { data, hits }) => sum + data[i]! * hits, 0)
    }
  const least = limit('preflight.leastArea').value
  return grounds.flatMap(({ of, where, by }, g) => {
    const { area, most, white } = seen[g]!
    if (area.mm2 <= least) return []
    return [
      found({
        severity: 'error',
        code: 'ink-total',
        of,
        where,
        message: `${mm2(area.mm2)} hold more than ${saidLimit(by)} of ink, up to ${Math.round(most / 2.55)} %${white > 0 ? ` and ${Math.round(white / 2.55)} % of white under it` : ''}: it dries badly on what does not soak it up`,
        fix: 'Separate with less under-colour, or take inks out of the dark builds.',
        box: area.box,
        measured: measured(most / 2.55, '%', 0),
        limit: by,
      }),
    ]
  })
}
