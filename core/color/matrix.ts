/** A 3 × 3 matrix, row by row. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number]
export type Vector3 = readonly [number, number, number]

/** The product `a b`: `b` acts first. */
export function multiply(a: Matrix3, b: Matrix3): Matrix3 {
  const entry = (row: number, column: number) =>
    a[3 * row]! * b[column]! + a[3 * row + 1]! * b[column + 3]! + a[3 * row + 2]! * b[column + 6]!
  return [
    entry(0, 0),
    entry(0, 1),
    entry(0, 2),
    entry(1, 0),
    entry(1, 1),
    entry(1, 2),
    entry(2, 0),
    entry(2, 1),
    entry(2, 2),
  ]
}

export function apply(m: Matrix3, v: Vector3): Vector3 {
  return [
    m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
    m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
    m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
  ]
}

/** Diagonal matrix. */
export function diagonal(v: Vector3): Matrix3 {
  return [v[0], 0, 0, 0, v[1], 0, 0, 0, v[2]]
}

/** Inverse by cofactors. Throws RangeError when the matrix is singular. */
export function invert(m: Matrix3): Matrix3 {
  const [a, b, c, d, e, f, g, h, i] = m
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
  if (determinant === 0) throw new RangeError('matrix: expected an invertible matrix, got determinant 0')
  const s = 1 / determinant
  return [
    (e * i - f * h) * s,
    (c * h - b * i) * s,
    (b * f - c * e) * s,
    (f * g - d * i) * s,
    (a * i - c * g) * s,
    (c * d - a * f) * s,
    (d * h - e * g) * s,
    (b * g - a * h) * s,
    (a * e - b * d) * s,
  ]
}
