import type { DisplayTransform } from './display.ts'
import { inGamut } from './gamut.ts'
import { judgedLuminance, knee, shownLuminance } from './tone.ts'

/** What a screen cannot show of a light. */
export interface OverScreen {
  /** Luminance over that of paper white, stops, counted only where it is above the screen's own white; else 0. */
  readonly stops: number
  /** Purer than the screen can be at the luminance it is shown with. */
  readonly outOfGamut: boolean
}

/** Lower ends of the bands that the overlay tells apart, stops over paper white; the first starts at the screen's white. */
export const overBands = [0, 1, 3, 6] as const

/** A linear component this far outside 0..1 is a loss: half of what the eye tells apart beside white. */
export const purenessSlack = 2e-3

/** How far a light is beyond the screen; the display pass decides by the same rule. */
export function overScreen(transform: DisplayTransform, X: number, Y: number, Z: number): OverScreen {
  const j = transform.toJudged
  const redPart = j[0] * X + j[1] * Y + j[2] * Z
  const greenPart = j[3] * X + j[4] * Y + j[5] * Z
  const own = judgedLuminance(redPart, greenPart)
  if (!(own > 0)) return { stops: 0, outOfGamut: false }
  const shown = shownLuminance(redPart, greenPart, j[6] * X + j[7] * Y + j[8] * Z)
  const m = transform.toRgb
  const component = (row: 0 | 3 | 6) => (shown / own) * (m[row] * X + m[row + 1]! * Y + m[row + 2]! * Z)
  return {
    stops: own > 1 ? Math.log2(own / knee) : 0,
    outOfGamut: !inGamut(component(0), component(3), component(6), purenessSlack),
  }
}

/** Which band of {@link overBands} a light falls in, from 1; one past the last = only too pure; 0 = the screen shows it. */
export function overBand({ stops, outOfGamut }: OverScreen): number {
  if (stops > 0) return overBands.filter(from => stops > from).length
  return outOfGamut ? overBands.length + 1 : 0
}
