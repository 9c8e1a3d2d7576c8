import { type Lab, labToXyz, xyzToLab } from '../color/lab.ts'
import {
  firstWavelength,
  illuminantSpectrum,
  illuminantWhite,
  sampleCount,
  spectrumToXyz,
} from '../color/spectrum.ts'
import { fresnel } from './fresnel.ts'
import { nearestFilter } from './ink.ts'
import { metalReflectance } from './metal.ts'
import { fromNodes, nodeCount } from './smooth.ts'

/** A coloured lacquer as a filter. */
export interface Tint {
  /** Transmittance in one pass, straight on, 401 samples; on a slant it is t^(1/cosθ). */
  readonly once: Float64Array
  /** Whether the flat mirror has the colour asked for; otherwise it is the nearest greyer one that it can have. */
  readonly exact: boolean
  /** Colour of the flat mirror, L*a*b* D50. */
  readonly lab: Lab
}

/**
 * The smoothest filter under which flat aluminium, seen straight on in its mirror direction through the surface and
 * twice through the filter, has a colour under D50: perfect white is what the lamp itself would show. A colour that no
 * filter over the metal has (brighter than clear foil, too vivid) is brought towards the metal's own grey until one has.
 * @param coat refractive index of the lacquer
 */
export function tintOf(lab: Lab, coat: number): Tint {
  const key = `${lab.join(' ')} ${coat}`
  let tint = kept.get(key)
  if (tint === undefined) {
    if (kept.size >= mostKept) kept.clear()
    tint = solve(lab, coat)
    kept.set(key, tint)
  }
  return tint
}

/** Solved in some milliseconds; a scene asks for the same one again and again. */
const kept = new Map<string, Tint>()
const mostKept = 32

/** The filter of a board's tint in one pass, or null for a clear board. */
export const tintFilter = (lab: Lab | null, coat: number): Float64Array | null =>
  lab === null ? null : tintOf(lab, coat).once

/** Colour of flat clear foil, straight on in its mirror direction, L*a*b* D50. */
export function clearMirror(coat: number): Lab {
  return colorOf(mirror(coat))
}

function solve(lab: Lab, coat: number): Tint {
  const base = mirror(coat)
  const atNodes = Float64Array.from(
    { length: nodeCount },
    (_, i) => base[(i * (sampleCount - 1)) / (nodeCount - 1)]!,
  )
  const { z, exact } = nearestFilter(lab, atNodes, colorOf(base), new Float64Array(nodeCount))
  const once = fromNodes(z.map(v => Math.exp(v / 2)))
  return { once, exact, lab: colorOf(base.map((v, i) => v * once[i]! ** 2)) }
}

/** Reflectance of the flat mirror straight on, both ways through the surface. */
function mirror(coat: number): Float64Array {
  const surface = (1 - fresnel(1, coat)) ** 2
  return Float64Array.from(
    { length: sampleCount },
    (_, i) => surface * metalReflectance(firstWavelength + i, 1, coat),
  )
}

function colorOf(reflectance: Float64Array): Lab {
  const light = illuminantSpectrum('D50')
  return xyzToLab(spectrumToXyz(reflectance.map((v, i) => v * light[i]!)), illuminantWhite('D50'))
}

/** Tints to begin with, named by what they look like; proposed, to be replaced by a reading of the real board. */
export const tintChoices: readonly { readonly name: string; readonly lab: Lab }[] = [
  { name: 'Pale gold', lab: [86, 2, 26] },
  { name: 'Warm gold', lab: [79, 8, 46] },
  { name: 'Copper', lab: [66, 24, 34] },
  { name: 'Rose', lab: [72, 24, 12] },
  { name: 'Steel blue', lab: [62, -6, -24] },
  { name: 'Smoke', lab: [58, 0, 2] },
]

/** X, Y, Z of a tint's colour under D50, for a swatch. */
export const tintXyz = (lab: Lab) => labToXyz(lab, illuminantWhite('D50'))
