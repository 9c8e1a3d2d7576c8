import type { CheckInput } from '../input.ts'
import { boxAround, cornersOf, nearLines } from './place.ts'
import type { SymbolFrame } from './scan.ts'
import type { LimitOf, Told } from './told.ts'

/** Ground round a symbol that belongs to it, mm: before, after, above and below. */
export type Round = readonly [before: number, after: number, above: number, below: number]

/** A code is known to a pixel of the picture that it was found in, mm. */
const atEdge = 0.1

/** Where a code lies: cut by the edge, on or near a fold, turned off square. */
export function placeFindings(
  { map, blank, corners }: Pick<CheckInput, 'map' | 'blank' | 'corners'>,
  frame: SymbolFrame,
  round: Round,
  limits: LimitOf,
): readonly Told[] {
  const outline = cornersOf(frame, round)
  const box = boxAround(outline)
  const inside = Math.min(box.leftMm, box.bottomMm, map.widthMm - box.rightMm, map.heightMm - box.topMm)
  const bars = boxAround(cornersOf(frame))
  const bare = Math.min(bars.leftMm, bars.bottomMm, map.widthMm - bars.rightMm, map.heightMm - bars.topMm)
  const found: Told[] = []
  if (inside >= 0 && bare < atEdge)
    found.push({
      severity: 'error',
      code: 'code-cut',
      message: 'it ends where the art ends, which may have cut it',
      fix: 'Move it inside the panel.',
      measured: { value: bare, unit: 'mm' },
    })
  if (inside < 0)
    found.push({
      severity: 'error',
      code: 'code-cut',
      message: `with its light margins it reaches ${(-inside).toFixed(2)} mm beyond the edge of the art`,
      fix: 'Move it inside the panel.',
      measured: { value: inside, unit: 'mm' },
    })
  const limit = limits('codes.fold-distance')
  const [nearest] = blank === null ? [] : nearLines(blank, corners, outline)
  if (nearest !== undefined && nearest.mm < limit.value && inside >= 0)
    found.push({
      severity: nearest.mm <= 0 ? 'error' : 'warning',
      code: 'code-near-fold',
      message:
        nearest.mm <= 0
          ? `it lies across ${nearest.what}`
          : `it is ${nearest.mm.toFixed(1)} mm from ${nearest.what}, with its light margins`,
      fix: 'Move it to the middle of a flat panel.',
      measured: { value: nearest.mm, unit: 'mm' },
      limit,
    })
  return [...found, ...turned(frame, limits)]
}

function turned({ across }: SymbolFrame, limits: LimitOf): readonly Told[] {
  const turn = (Math.atan2(across[1], across[0]) * 180) / Math.PI
  const off = Math.abs(turn - 90 * Math.round(turn / 90))
  const limit = limits('codes.turned')
  if (off <= limit.value) return []
  return [
    {
      severity: 'note',
      code: 'code-turned',
      message: `it stands ${off.toFixed(0)}° off square; bars print best along the press, and readers expect them upright or lying`,
      fix: 'Turn it square to the panel, its bars along the way through the press where that is known.',
      measured: { value: off, unit: '°' },
      limit,
    },
  ]
}
