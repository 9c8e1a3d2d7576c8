/** A place as it is written: in the units and the sense of the drawing. */
type Place = readonly [x: number, y: number]

/** A line through places as the path data of SVG 2, section 9.3. */
export const linePath = (points: readonly Place[]): string =>
  `M${points.map(([x, y]) => `${x} ${y}`).join('L')}`

/** Closed lines, none of which repeats its first point, as the path data of one shape. */
export const ringsPath = (rings: readonly (readonly Place[])[]): string =>
  rings.map(ring => `${linePath(ring)}Z`).join('')
