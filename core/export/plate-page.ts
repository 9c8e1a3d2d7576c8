import type { Label } from './plate-label.ts'
import { marksReach } from './plate-marks.ts'
import type { PlateSheet } from './plate-sheet.ts'

/** Size of the page around a sheet, and where the trim's lower left corner lies on it when right reading, mm. */
export interface PageSize {
  readonly width: number
  readonly height: number
  readonly left: number
  readonly bottom: number
}

/** Page that the label needs at least, mm wide. */
const leastWidth = 110

/** Room around all, mm. */
export const edge = 3

const ownWidth = ({ trim, bleed, around }: PlateSheet, marks: boolean): number =>
  trim[0] + (marks ? around[0] + around[2] + 2 * (marksReach + edge) : bleed[0] + bleed[2])

/** Width of the page, mm. */
export const pageWidth = (sheet: PlateSheet, marks: boolean): number =>
  marks ? Math.max(leastWidth, ownWidth(sheet, marks)) : ownWidth(sheet, marks)

/** With marks the page has room for them and the label below; without, the bleed is the page. */
export function pageSize(sheet: PlateSheet, marks: boolean, label: Label | null): PageSize {
  const { trim, bleed, around } = sheet
  const own = ownWidth(sheet, marks)
  if (!marks) return { width: own, height: trim[1] + bleed[1] + bleed[3], left: bleed[0], bottom: bleed[1] }
  const width = pageWidth(sheet, marks)
  const below = around[1] + marksReach + edge + (label?.height ?? 0)
  return {
    width,
    height: trim[1] + below + around[3] + marksReach + edge,
    left: around[0] + marksReach + edge + (width - own) / 2,
    bottom: below,
  }
}
