/** x right, y up, z out of the print side, mm. */
export type Vec3 = readonly [number, number, number]

/** Rotation from one frame to another, the panel's to the table's for one; rows. Orthonormal, so its inverse is its transpose. */
export type Rotation = readonly [Vec3, Vec3, Vec3]

export function toTable(r: Rotation, p: Vec3): Vec3 {
  return [dot(r[0], p), dot(r[1], p), dot(r[2], p)]
}

export function toPanel(r: Rotation, p: Vec3): Vec3 {
  return [
    r[0][0] * p[0] + r[1][0] * p[1] + r[2][0] * p[2],
    r[0][1] * p[0] + r[1][1] * p[1] + r[2][1] * p[2],
    r[0][2] * p[0] + r[1][2] * p[1] + r[2][2] * p[2],
  ]
}

/** First b, then a. */
export function times(a: Rotation, b: Rotation): Rotation {
  const row = (r: Vec3): Vec3 => toPanel(b, r)
  return [row(a[0]), row(a[1]), row(a[2])]
}

export const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
