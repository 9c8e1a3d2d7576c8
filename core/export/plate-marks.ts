import { reals } from './pdf-content.ts'
import type { PlateSheet } from './plate-sheet.ts'

/** Lines of marks, mm. */
const lineMm = 0.1
/** From all that is drawn to a cut mark, its length, and from there to the middle of a register mark, mm. */
const cutGap = 2
const cutLength = 5
const registerAt = 6
const registerRing = 1.5
const registerArm = 3

/** Room that marks take past all that is drawn, on every side, mm. */
export const marksReach = registerAt + registerArm + 1

/** Cut marks at the corners of the trim and register marks at the middles of its sides, as page content, mm. */
export function marksContent({ trim: [width, height], around }: PlateSheet): readonly string[] {
  const [left, bottom, right, top] = around
  const out = [`${reals(lineMm)} w 0 J [] 0 d`]
  const line = (x0: number, y0: number, x1: number, y1: number) =>
    out.push(`${reals(x0, y0)} m ${reals(x1, y1)} l S`)
  for (const x of [0, width]) {
    line(x, -bottom - cutGap, x, -bottom - cutGap - cutLength)
    line(x, height + top + cutGap, x, height + top + cutGap + cutLength)
  }
  for (const y of [0, height]) {
    line(-left - cutGap, y, -left - cutGap - cutLength, y)
    line(width + right + cutGap, y, width + right + cutGap + cutLength, y)
  }
  const cross = (x: number, y: number) => {
    line(x - registerArm, y, x + registerArm, y)
    line(x, y - registerArm, x, y + registerArm)
    out.push(circle(x, y, registerRing))
  }
  cross(width / 2, -bottom - registerAt)
  cross(width / 2, height + top + registerAt)
  cross(-left - registerAt, height / 2)
  cross(width + right + registerAt, height / 2)
  return out
}

/** Handle of a quarter circle drawn as a curve. Source: largest error least, (4/3)(√2 − 1), 2.7e-4 of the radius. */
const handle = (4 / 3) * (Math.SQRT2 - 1)

function circle(x: number, y: number, r: number): string {
  const h = handle * r
  return [
    `${reals(x + r, y)} m`,
    `${reals(x + r, y + h, x + h, y + r, x, y + r)} c`,
    `${reals(x - h, y + r, x - r, y + h, x - r, y)} c`,
    `${reals(x - r, y - h, x - h, y - r, x, y - r)} c`,
    `${reals(x + h, y - r, x + r, y - h, x + r, y)} c S`,
  ].join(' ')
}
