/** Pixels on an inch of art that is drawn, where nobody chose another, and the least and most that may be chosen. */
export const drawnPpi = 300
export const drawnPpiRange = [36, 2400] as const
