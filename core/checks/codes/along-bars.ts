import { edgesOf, elementsOf } from './profile.ts'
import { type SymbolFrame, scanAcross } from './scan.ts'
import type { Readable } from './surface.ts'

/** Heights at which the first bar is looked for. */
const [above, below] = [0.25, 0.75] as const
/** Less than this is a rounding of the reader's corners, radians. */
const least = 0.004

/**
 * The frame of a symbol turned along its bars. A reader crosses bars in rows of its picture and names the rows that it
 * could read, whichever way the bars run.
 * @param drawing of the art, light is high
 * @param fineMm  as fine as the drawing is
 */
export function alongBars(drawing: Readable, frame: SymbolFrame, fineMm: number): SymbolFrame {
  const { start, across, down, lengthMm, heightMm } = frame
  const beside = Math.max(lengthMm / 40, heightMm / 4)
  const [upper, lower] = [above, below].map(height => {
    const line = scanAcross(drawing, frame, height, fineMm, beside, beside)
    const elements = elementsOf(line.profile)
    const edges = edgesOf(line.profile, elements)
    const first = elements[0]?.kind === 'bar' ? 1 : 0
    const [from, to] = [edges[first], edges[first + 1]]
    if (from === undefined || to === undefined) return null
    // The middle of the first bar.
    return {
      at: ((from + to) / 2) * line.stepMm - line.fromMm,
      half: ((to - from) / 2) * line.stepMm,
      count: elements.length,
    }
  })
  if (upper == null || lower == null || upper.count !== lower.count) return frame
  const slip = lower.at - upper.at
  const turn = Math.atan2(slip, (below - above) * heightMm)
  if (Math.abs(turn) < least) return frame
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const bar = [down[0] * c + across[0] * s, down[1] * c + across[1] * s] as const
  const reading = [across[0] * c - down[0] * s, across[1] * c - down[1] * s] as const
  const at = (upper.at + lower.at) / 2
  const middle = [
    start[0] + across[0] * at + (down[0] * heightMm) / 2,
    start[1] + across[1] * at + (down[1] * heightMm) / 2,
  ] as const
  const isBar = (along: number) => drawing.at(middle[0] + bar[0] * along, middle[1] + bar[1] * along) < 0.5
  const reach = (way: 1 | -1) => {
    let along = 0
    while (along < 2 * heightMm + lengthMm && isBar(way * (along + fineMm))) along += fineMm
    return along
  }
  const [up, onwards] = [reach(-1), reach(1)]
  const half = upper.half * c
  return {
    start: [middle[0] - bar[0] * up - reading[0] * half, middle[1] - bar[1] * up - reading[1] * half],
    across: reading,
    down: bar,
    lengthMm: lengthMm * c,
    heightMm: up + onwards,
  }
}
