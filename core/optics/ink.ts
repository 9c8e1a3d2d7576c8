import type { Lab } from '../color/lab.ts'
import { labToXyz } from '../color/lab.ts'
import { illuminantWhite } from '../color/spectrum.ts'
import { primaries } from '../data/primaries.ts'
import { fromNodes, nodeColors, nodeCount, smoothestFilter } from './smooth.ts'

/** Printing inks as filters, 401 samples each. */
export interface Inks {
  /** Reflectance of white coated board as an instrument sees it (45/0). */
  readonly board: Float64Array
  /** Transmittance of the 16 primaries in one pass; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */
  readonly primaries: readonly Float64Array[]
}

/**
 * The process inks, found from the colours of their full tones and overprints on white board: board · t² has the
 * printed colour, and t is as smooth as it can be. Overprints start from the product of their inks.
 * Source of the colours: FOGRA39L (2006).
 */
export function processInks(): Inks {
  inks ??= solve()
  return inks
}
// Solved once: the same 17 spectra serve every scene, and take some 30 ms.
let inks: (Inks & { readonly boardNodes: Float64Array }) | undefined

function solve() {
  const white = illuminantWhite('D50')
  const colors = nodeColors('D50')
  const flat = new Float64Array(nodeCount)
  const perfect = new Float64Array(nodeCount).fill(1)
  const board = find(labToXyz(primaries[0]!, white), perfect, flat)
  const boardNodes = board.map(Math.exp)
  const logs: Float64Array[] = [flat]
  for (let p = 1; p < primaries.length; p++) {
    const expected = new Float64Array(nodeCount)
    for (const bit of [1, 2, 4, 8])
      if (p & bit && p !== bit) for (let i = 0; i < nodeCount; i++) expected[i]! += logs[bit]![i]!
    logs[p] = find(labToXyz(primaries[p]!, white), boardNodes, expected)
  }
  return {
    boardNodes,
    board: fromNodes(boardNodes),
    primaries: logs.map(z => fromNodes(z.map(v => Math.exp(v / 2)))),
  }

  function find(color: readonly [number, number, number], base: Float64Array, expected: Float64Array) {
    const z = smoothestFilter(color, base, colors, expected)
    if (!z) throw new Error(`no smooth spectrum for XYZ ${color.join(' ')}`)
    return z
  }
}

/**
 * Transmittance of a spot ink in one pass, 401 samples, from the colour of its full tone on white board. A colour
 * that no filter over the board can have (brighter than the board, too vivid) is brought towards grey until one can.
 * @param lab L*a*b* (D50), or null where nothing is known: a clear ink
 */
export function spotTransmittance(lab: Lab | null): Float64Array {
  processInks()
  const flat = new Float64Array(nodeCount)
  if (lab === null) return fromNodes(flat.map(Math.exp))
  const white = illuminantWhite('D50')
  const colors = nodeColors('D50')
  const brightest = primaries[0]!
  const L = Math.min(Math.max(lab[0], 1), brightest[0])
  for (let chroma = 1; chroma > 0.02; chroma *= 0.95) {
    const color: Lab = [
      L,
      brightest[1] + chroma * (lab[1] - brightest[1]),
      brightest[2] + chroma * (lab[2] - brightest[2]),
    ]
    const z = smoothestFilter(labToXyz(color, white), inks!.boardNodes, colors, flat)
    if (z) return fromNodes(z.map(v => Math.exp(v / 2)))
  }
  const grey = labToXyz([L, 0, 0], white)[1] / labToXyz([brightest[0], 0, 0], white)[1]
  return fromNodes(flat.map(() => Math.sqrt(Math.min(1, grey))))
}

/** Area of each of the 16 primaries when the dots of the four inks fall at random. Source: M. E. Demichel, Procédé 26, 17 (1924). */
export function demichel(cmyk: ArrayLike<number>, out: Float64Array): Float64Array {
  for (let p = 0; p < 16; p++) {
    let area = 1
    for (let ink = 0; ink < 4; ink++) area *= (p >> ink) & 1 ? cmyk[ink]! : 1 - cmyk[ink]!
    out[p] = area
  }
  return out
}

/**
 * Mean of a halftone by areas: (Σ a v^(1/n))^n. n = 1 where light leaves through the dot it entered (metal), 2 where
 * it wanders in between (white). Source: Yule & Nielsen, TAGA Proc. 4, 65 (1951); n = 1 is Murray & Davies (1936).
 */
export function dotMean(areas: ArrayLike<number>, values: ArrayLike<number>, n: number): number {
  let sum = 0
  for (let p = 0; p < areas.length; p++) if (areas[p]! > 0) sum += areas[p]! * values[p]! ** (1 / n)
  return sum ** n
}
