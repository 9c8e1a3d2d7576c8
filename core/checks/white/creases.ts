import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { artCreases, distanceTo } from '../on-art.ts'
import { bytesOf } from '../plane-bytes.ts'
import { SpotArea } from '../spot-area.ts'
import { mm, saidLimit } from '../words.ts'
import { forPixels } from './guarded.ts'
import type { WhiteLimit } from './limits.ts'
import { hitsOf } from './predicted.ts'

/** From here on a crease counts as folded flat; below the other it does not stretch its outside much. Degrees. */
const flatDeg = 135
const leastDeg = 45

/** White on the stretched side of a crease: it may crack there. Creases that fold towards the print press it together. */
export function whiteOverCreases(
  input: Pick<CheckInput, 'map' | 'blank' | 'corners'>,
  limit: (key: WhiteLimit) => AppliedLimit,
): readonly CheckFinding[] {
  const { map } = input
  const whites = map.whites.map(({ coverage }) => bytesOf(map, coverage))
  if (whites.every(plane => plane === null)) return []
  const reach = limit('white.creaseReach').value
  return artCreases(input).flatMap(({ hinge, from, to }): readonly CheckFinding[] => {
    if (hinge.closedDeg < leastDeg) return []
    const flat = hinge.closedDeg >= flatDeg
    const most = limit(flat ? 'white.creaseHitsFlat' : 'white.creaseHits')
    const area = new SpotArea(map)
    let thickest = 0
    const box = {
      leftMm: Math.min(from[0], to[0]) - reach,
      rightMm: Math.max(from[0], to[0]) + reach,
      bottomMm: Math.min(from[1], to[1]) - reach,
      topMm: Math.max(from[1], to[1]) + reach,
    }
    forPixels(map, box, (i, x, y) => {
      const xMm = ((x + 0.5) / map.width) * map.widthMm
      const yMm = (1 - (y + 0.5) / map.height) * map.heightMm
      if (distanceTo([xMm, yMm], from, to) > reach) return
      const hits = hitsOf(
        map.whites,
        whites.map(plane => (plane?.[i] ?? 0) / 255),
      )
      if (hits <= most.value + 0.01) return
      area.add(x, y)
      thickest = Math.max(thickest, hits)
    })
    if (area.mm2 <= limit('white.leastArea').value) return []
    const length = area.mm2 / (2 * reach)
    return [
      {
        check: 'white',
        key: `white/crease ${hinge.name}`,
        severity: 'warning',
        code: 'white-over-crease',
        where: `crease "${hinge.name}"`,
        message: `${Number(thickest.toFixed(2))} hits of white lie for about ${mm(length)} on the outside of a crease that folds by ${Math.round(hinge.closedDeg)}°; the limit is ${saidLimit(most)}`,
        fix: 'Leave the crease free of white or print it with fewer hits there, and try the crease on the real build.',
        box: area.box,
        held: null,
        measured: { value: Number(thickest.toFixed(2)), unit: 'hits' },
        limit: most,
        remedy: null,
      },
    ]
  })
}
