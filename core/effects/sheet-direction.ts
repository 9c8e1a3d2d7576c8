/** A direction by its degrees from 0 to below 360. */
export const around = (deg: number): number => ((deg % 360) + 360) % 360

/**
 * A direction of the open blank as the press sheet has it, 0 to below 360°.
 * @param deg         on the carton, counter-clockwise from its right, seen from the print side
 * @param nestTurnDeg how the blank lies on the sheet: turned by this, counter-clockwise
 */
export const directionOnSheet = (deg: number, nestTurnDeg: number): number => around(deg + nestTurnDeg)
