/**
 * A lamp with its outline, as seen from one place of the panel; panel frame, lengths in mm. Filled by `aimArea`
 * and used again for the next place.
 */
export interface Area {
  /** A disc, or a rectangle. */
  round: boolean
  /** From the place to the lamp's middle. */
  x: number
  y: number
  z: number
  /** Half sides of a rectangle; two radii of a disc at right angles. */
  acrossX: number
  acrossY: number
  acrossZ: number
  upX: number
  upY: number
  upZ: number
  /** Unit vector to the middle. */
  towardX: number
  towardY: number
  towardZ: number
  /** Rectangle: unit vectors square to the planes through the place and each side, pointing inwards; sides 0 and 2 face each other. */
  readonly sides: Float64Array
  /** Disc: unit vector along its axis, away from the place; distance of its plane; radius. */
  axisX: number
  axisY: number
  axisZ: number
  depth: number
  radius: number
  /** What the lamp sends the panel here: ∫ cosθ dω over what stands above the panel, sr. */
  light: number
  /** Cosine to the panel's normal of the direction from which that comes on the whole. */
  lightCos: number
}

export function emptyArea(): Area {
  return {
    round: true,
    x: 0,
    y: 0,
    z: 1,
    acrossX: 0,
    acrossY: 0,
    acrossZ: 0,
    upX: 0,
    upY: 0,
    upZ: 0,
    towardX: 0,
    towardY: 0,
    towardZ: 1,
    sides: new Float64Array(12),
    axisX: 0,
    axisY: 0,
    axisZ: 1,
    depth: 1,
    radius: 0,
    light: 0,
    lightCos: 1,
  }
}
