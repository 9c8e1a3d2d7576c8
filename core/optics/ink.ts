import { type Lab, labToXyz, xyzToLab } from '../color/lab.ts'
import { firstWavelength, illuminantSpectrum, illuminantWhite, spectrumToXyz } from '../color/spectrum.ts'
import { primaries } from '../data/primaries.ts'
import { fromNodes, nodeColors, nodeCount, smoothestFilter } from './smooth.ts'

/** Printing inks as filters, 401 samples each. */
export interface Inks {
  /** Reflectance of the bare paper or coated board as an instrument sees it (45/0). */
  readonly board: Float64Array
  /** Transmittance of the 16 primaries in one pass; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */
  readonly primaries: readonly Float64Array[]
  /** Logarithms of board at the nodes. */
  readonly boardNodes: Float64Array
  /** Primaries whose colour no filter over the paper has; the nearest greyer one was taken. 0 is the paper. */
  readonly adjusted: readonly number[]
}

/** A spot ink by what is known of its full tone on white board. */
export interface SpotInk {
  /** L*a*b* (D50); null where nothing is known: a clear ink. Without meaning where there is a spectrum. */
  readonly lab: Lab | null
  readonly spectrum?: MeasuredSpectrum | null
}

/** Reflectance of a full tone on white board, the board included: sample i at `startNm + i · stepNm`. */
export interface MeasuredSpectrum {
  readonly startNm: number
  readonly stepNm: number
  readonly values: readonly number[]
}

/**
 * The process inks, found from the colours of their full tones and overprints on white paper: board · t² has the
 * printed colour, and t is as smooth as it can be. Overprints start from the product of their inks. Takes 30 ms, once
 * for each list.
 * @param solids L*a*b* (D50) of paper and 15 full-tone primaries; left out: FOGRA39L (2006)
 */
export function inksOf(solids: readonly Lab[] = primaries): Inks {
  const known = solved.get(solids)
  if (known) return known
  const inks = solve(solids)
  solved.set(solids, inks)
  return inks
}
const solved = new WeakMap<readonly Lab[], Inks>()

function solve(solids: readonly Lab[]): Inks {
  const flat = new Float64Array(nodeCount)
  const perfect = new Float64Array(nodeCount).fill(1)
  const adjusted: number[] = []
  const found = (p: number, base: Float64Array, brightest: Lab, expected: Float64Array) => {
    const { z, exact } = nearestFilter(solids[p]!, base, brightest, expected)
    if (!exact) adjusted.push(p)
    return z
  }
  const board = found(0, perfect, [100, 0, 0], flat)
  const boardNodes = board.map(Math.exp)
  const logs: Float64Array[] = [flat]
  for (let p = 1; p < solids.length; p++) {
    const expected = new Float64Array(nodeCount)
    for (const bit of [1, 2, 4, 8])
      if (p & bit && p !== bit) for (let i = 0; i < nodeCount; i++) expected[i]! += logs[bit]![i]!
    logs[p] = found(p, boardNodes, solids[0]!, expected)
  }
  return {
    boardNodes,
    board: fromNodes(boardNodes),
    primaries: logs.map(z => fromNodes(z.map(v => Math.exp(v / 2)))),
    adjusted,
  }
}

/**
 * Transmittance of a spot ink in one pass, 401 samples: from its measured spectrum, or as the smoothest filter that
 * has its colour over the board. A colour that no filter over the board can have (brighter than the board, too vivid)
 * is brought towards grey until one can; so is a reflectance above the board's.
 */
export function spotTransmittance({ lab, spectrum }: SpotInk, inks: Inks = inksOf()): Float64Array {
  const flat = new Float64Array(nodeCount)
  if (spectrum) return inks.board.map((board, i) => Math.sqrt(Math.min(1, at(spectrum, i) / board)))
  if (lab === null) return fromNodes(flat.map(Math.exp))
  const light = spectrumToXyz(inks.board.map((v, i) => v * illuminantSpectrum('D50')[i]!))
  const brightest = xyzToLab(light, illuminantWhite('D50'))
  const { z } = nearestFilter(lab, inks.boardNodes, brightest, flat)
  return fromNodes(z.map(v => Math.exp(v / 2)))
}

/** L*a*b* (D50, 2°) of the solid on white board: of its spectrum where it has one; null where nothing is known. */
export function solidLab({ lab, spectrum }: SpotInk): Lab | null {
  if (!spectrum) return lab
  const light = illuminantSpectrum('D50').map((power, i) => power * at(spectrum, i))
  return xyzToLab(spectrumToXyz(light), illuminantWhite('D50'))
}

/** A measured spectrum at sample i, straight between its own, level beyond them. */
function at({ startNm, stepNm, values }: MeasuredSpectrum, i: number): number {
  const place = Math.min(values.length - 1, Math.max(0, (firstWavelength + i - startNm) / stepNm))
  const left = Math.min(Math.floor(place), values.length - 2)
  return values[left]! + (place - left) * (values[left + 1]! - values[left]!)
}

/** Logarithms of the smoothest filter over a base with the colour, or with the nearest towards the base's own grey. */
function nearestFilter(
  lab: Lab,
  base: Float64Array,
  brightest: Lab,
  expected: Float64Array,
): { readonly z: Float64Array; readonly exact: boolean } {
  const white = illuminantWhite('D50')
  const colors = nodeColors('D50')
  const flat = new Float64Array(nodeCount)
  const L = Math.min(Math.max(lab[0], 1), brightest[0])
  for (let chroma = 1; chroma > 0.02; chroma *= 0.95) {
    const color: Lab = [
      L,
      brightest[1] + chroma * (lab[1] - brightest[1]),
      brightest[2] + chroma * (lab[2] - brightest[2]),
    ]
    const xyz = labToXyz(color, white)
    const z = smoothestFilter(xyz, base, colors, expected) ?? smoothestFilter(xyz, base, colors, flat)
    if (z) return { z, exact: chroma === 1 && L === lab[0] }
  }
  const grey = labToXyz([L, 0, 0], white)[1] / labToXyz([brightest[0], 0, 0], white)[1]
  return { z: flat.map(() => Math.log(Math.min(1, grey))), exact: false }
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
