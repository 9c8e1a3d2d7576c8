import type { Point } from '../../carton/die.ts'
import { inside } from '../../reference/solid.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { ArtLine } from '../on-art.ts'
import { anyInk } from '../plane-bytes.ts'
import { mm, saidLimit } from '../words.ts'
import { cutLines, trimmed } from './cut-lines.ts'
import { found, limitOf, measured } from './found.ts'

/** Steps along and across a cut, mm. */
const alongMm = 0.5
const acrossMm = 0.25
/** Ink at the edge and beyond it, 0..255. */
const inked = 26

/** Print that stops short behind a cut: paper or foil shows when the die is a little off. One finding a panel; a page without die is cut at its trim box. */
export function bleedFindings(input: CheckInput): readonly CheckFinding[] {
  const limit = limitOf(input)('preflight.bleed')
  const ink = inkAt(input)
  const { blank, corners } = input
  const onBoard = (panel: string, [x, y]: Point): boolean => {
    if (blank === null) return false
    const [cornerX, cornerY] = corners.get(panel)!
    return blank.panels.some(({ outline }) => inside(outline, x + cornerX, y + cornerY))
  }
  const short = new Map<string, { reached: number; length: number; box: BoxMm }>()
  for (const line of cutLines(input)) {
    if (line.kind !== 'cut') continue
    for (const [x, y] of along(line)) {
      const [nx, ny] = line.outward
      if (ink(x - nx * alongMm, y - ny * alongMm) < inked) continue
      let reached = 0
      for (let d = acrossMm; d <= limit.value; d += acrossMm) {
        const at: Point = [x + nx * d, y + ny * d]
        // Past a narrow slot the next panel begins: there the bleed ends.
        if (onBoard(line.panel, at)) {
          reached = limit.value
          break
        }
        if (ink(...at) < inked) break
        reached = d
      }
      if (reached + acrossMm > limit.value) continue
      const one = short.get(line.panel)
      short.set(line.panel, {
        reached: Math.min(reached, one?.reached ?? reached),
        length: (one?.length ?? 0) + alongMm,
        box: around(one?.box, x, y),
      })
    }
  }
  return [...short].map(([panel, { reached, length, box }]) =>
    found({
      severity: 'error',
      code: 'bleed-short',
      of: panel,
      where: panel === trimmed ? trimmed : `panel "${panel}"`,
      message: `print reaches ${mm(reached)} past the cut along ${mm(length)} of its edge; bleed is ${saidLimit(limit)}`,
      fix: 'Draw the art on past the cut.',
      box,
      measured: measured(reached, 'mm'),
      limit,
    }),
  )
}

function along({ from, to }: ArtLine): readonly Point[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const steps = Math.floor(length / alongMm)
  return Array.from({ length: steps }, (_, i): Point => {
    const part = (i + 0.5) / steps
    return [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])]
  })
}

/** The most ink of any plate at a place, 0 beside the art. */
function inkAt({ map, art }: CheckInput): (xMm: number, yMm: number) => number {
  const ink = anyInk(map)
  const { width, height, widthMm, heightMm } = map
  // A page ends where its last pixel does, half of one from where it was drawn to end; and places are rounded.
  const rounding = widthMm / art.width / 2 + 1e-6
  return (xMm, yMm) => {
    if (xMm < -rounding || yMm < -rounding || xMm > widthMm + rounding || yMm > heightMm + rounding) return 0
    const x = Math.min(width - 1, Math.max(0, Math.floor((xMm / widthMm) * width)))
    const y = Math.min(height - 1, Math.max(0, Math.floor((1 - yMm / heightMm) * height)))
    return ink[y * width + x]!
  }
}

const around = (box: BoxMm | undefined, x: number, y: number): BoxMm => ({
  leftMm: Math.min(box?.leftMm ?? x, x),
  rightMm: Math.max(box?.rightMm ?? x, x),
  bottomMm: Math.min(box?.bottomMm ?? y, y),
  topMm: Math.max(box?.topMm ?? y, y),
})
