import type { Carton } from './carton.ts'
import { fold, placed } from './fold.ts'

/** Two corners of the closed carton that belong together. */
export interface Closing {
  readonly name: string
  /** How far apart they are, from the middle of the board of one to that of the other, mm. */
  readonly apartMm: number
}

/** How well a carton closes: of corners that no crease joins, how far apart they are when all is folded. */
export function closings({ blank, meetings }: Carton): readonly Closing[] {
  const placings = fold(blank, 1)
  const middle = -blank.caliperMm / 2
  return meetings.map(({ name, a, b }) => {
    const [from, to] = [a, b].map(({ panel, at }) => placed(placings.get(panel)!, at[0], at[1], middle))
    return { name, apartMm: Math.hypot(to![0] - from![0], to![1] - from![1], to![2] - from![2]) }
  })
}
