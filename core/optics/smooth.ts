import { illuminantSpectrum, type LightSource, observer, sampleCount } from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'

/** Spectra of inks: every 10 nm from 380 to 780, straight between. */
export const nodeCount = 41
const nodeStep = 10

/** A spectrum of 41 nodes at 1 nm. */
export function fromNodes(nodes: ArrayLike<number>): Float64Array {
  return Float64Array.from({ length: sampleCount }, (_, i) => {
    const left = Math.min(Math.floor(i / nodeStep), nodeCount - 2)
    const part = i / nodeStep - left
    return nodes[left]! * (1 - part) + nodes[left + 1]! * part
  })
}

/** Colour of each node's hat under an illuminant: XYZ of a spectrum is the sum over its nodes. */
export function nodeColors(illuminant: LightSource): readonly Float64Array[] {
  const light = illuminantSpectrum(illuminant)
  return [observer.x, observer.y, observer.z].map(cmf => {
    const weights = new Float64Array(nodeCount)
    for (let i = 0; i < sampleCount; i++) {
      const left = Math.min(Math.floor(i / nodeStep), nodeCount - 2)
      const part = i / nodeStep - left
      const power = light[i]! * cmf[i]!
      weights[left]! += power * (1 - part)
      weights[left + 1]! += power * part
    }
    return weights
  })
}

/**
 * The smoothest filter over a base that has a given colour: logarithms z ≤ 0 at the 41 nodes, so that
 * base · e^z has the colour and Σ (Δ(z − expected))² is least. A filter never brightens, hence z ≤ 0.
 * Newton's method on the Lagrange conditions; nodes that pass 0 are held there.
 * Source of the principle: S. A. Burns, Color Res. Appl. 45, 1020 (2020), least slope of the logarithm.
 * @returns null when no such filter was found
 */
export function smoothestFilter(
  color: XYZ,
  base: ArrayLike<number>,
  colors: readonly Float64Array[],
  expected: ArrayLike<number>,
): Float64Array | null {
  const held = new Uint8Array(nodeCount)
  const z = Float64Array.from(expected)
  for (let round = 0; round < nodeCount; round++) {
    if (!newton(z, held, color, base, colors, expected)) return null
    let passed = false
    for (let i = 0; i < nodeCount; i++)
      if (z[i]! > 1e-9) {
        held[i] = 1
        passed = true
      }
    if (!passed) return z
  }
  return null
}

function newton(
  z: Float64Array,
  held: Uint8Array,
  color: XYZ,
  base: ArrayLike<number>,
  colors: readonly Float64Array[],
  expected: ArrayLike<number>,
): boolean {
  const size = nodeCount + 3
  const λ = [0, 0, 0]
  for (let step = 0; step < 60; step++) {
    const rows = Array.from({ length: size }, () => new Float64Array(size + 1))
    for (let i = 0; i < nodeCount; i++) {
      const row = rows[i]!
      const power = base[i]! * Math.exp(z[i]!)
      for (let c = 0; c < 3; c++) {
        rows[nodeCount + c]![i] = colors[c]![i]! * power
        rows[nodeCount + c]![size]! -= colors[c]![i]! * power
      }
      if (held[i]) {
        row[i] = 1
        row[size] = -z[i]!
        continue
      }
      for (const j of [i - 1, i + 1])
        if (j >= 0 && j < nodeCount) {
          row[i]! += 1
          row[j]! -= 1
          row[size]! -= z[i]! - expected[i]! - (z[j]! - expected[j]!)
        }
      for (let c = 0; c < 3; c++) {
        row[i]! += λ[c]! * colors[c]![i]! * power
        row[nodeCount + c] = colors[c]![i]! * power
      }
    }
    for (let c = 0; c < 3; c++) rows[nodeCount + c]![size]! += color[c]!
    const solved = eliminate(rows)
    if (!solved) return false
    let longest = 0
    for (let i = 0; i < nodeCount; i++) longest = Math.max(longest, Math.abs(solved[i]!))
    const scale = longest > 1 ? 1 / longest : 1
    for (let i = 0; i < nodeCount; i++) z[i]! += scale * solved[i]!
    for (let c = 0; c < 3; c++) λ[c] = λ[c]! + scale * (solved[nodeCount + c]! - λ[c]!)
    if (longest < 1e-10) return true
  }
  return false
}

/** Gauss's elimination with row pivots; rows carry the right side last. Null when singular. */
function eliminate(rows: Float64Array[]): Float64Array | null {
  const n = rows.length
  for (let column = 0; column < n; column++) {
    let best = column
    for (let r = column + 1; r < n; r++)
      if (Math.abs(rows[r]![column]!) > Math.abs(rows[best]![column]!)) best = r
    const pivot = rows[best]!
    rows[best] = rows[column]!
    rows[column] = pivot
    if (!(Math.abs(pivot[column]!) > 1e-300)) return null
    for (let r = column + 1; r < n; r++) {
      const row = rows[r]!
      const factor = row[column]! / pivot[column]!
      if (factor !== 0) for (let k = column; k <= n; k++) row[k]! -= factor * pivot[k]!
    }
  }
  const x = new Float64Array(n)
  for (let r = n - 1; r >= 0; r--) {
    const row = rows[r]!
    let sum = row[n]!
    for (let k = r + 1; k < n; k++) sum -= row[k]! * x[k]!
    x[r] = sum / row[r]!
  }
  return x
}
