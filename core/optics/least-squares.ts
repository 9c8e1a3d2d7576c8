/**
 * Weights x that make Σ rows[k]·x closest to right[k], each equation with its own importance: normal equations,
 * Gauss–Jordan. For a handful of unknowns.
 */
export function leastSquares(
  rows: readonly (readonly number[])[],
  right: readonly number[],
  importance: readonly number[],
): number[] {
  const n = rows[0]!.length
  const system = Array.from({ length: n }, () => new Float64Array(n + 1))
  rows.forEach((row, k) => {
    for (let i = 0; i < n; i++) {
      const scaled = importance[k]! * row[i]!
      for (let j = 0; j < n; j++) system[i]![j]! += scaled * row[j]!
      system[i]![n]! += scaled * right[k]!
    }
  })
  for (let column = 0; column < n; column++) {
    let best = column
    for (let r = column + 1; r < n; r++)
      if (Math.abs(system[r]![column]!) > Math.abs(system[best]![column]!)) best = r
    const pivot = system[best]!
    system[best] = system[column]!
    system[column] = pivot
    for (let r = 0; r < n; r++) {
      if (r === column) continue
      const factor = system[r]![column]! / pivot[column]!
      for (let k = column; k <= n; k++) system[r]![k]! -= factor * pivot[k]!
    }
  }
  return system.map((row, i) => row[n]! / row[i]!)
}
