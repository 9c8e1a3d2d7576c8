import { fieldIn, fieldPart, flashWhite, isChange, mostFlashes } from '../../../core/reference/flash.ts'
import { isSaturatedRed } from '../../../core/reference/flash-red.ts'
import { ofNumbers, type Quantities } from '../row.ts'

/** What counts as a flash. */
export const flashing: Quantities = {
  'flash area in sr': ofNumbers(
    fieldDeg => fieldPart * 2 * Math.PI * (1 - Math.cos((fieldDeg! * Math.PI) / 360)),
  ),
  'flash area in pixels': ofNumbers((width, height) => {
    const [across, down] = fieldIn(width!, height!)
    return fieldPart * across * down
  }),
  'most flashes': () => mostFlashes,
  'half a flash': ofNumbers((darker, lighter) => Number(isChange(darker!, lighter!))),
  'half a flash in cd/m²': ofNumbers((darker, lighter) =>
    Number(isChange(darker! / flashWhite, lighter! / flashWhite)),
  ),
  'saturated red': ofNumbers((r, g, b) => Number(isSaturatedRed(r!, g!, b!))),
}
