import { deltaE2000 } from '../color/deltae.ts'
import { type Lab, labToXyz, xyzToLab } from '../color/lab.ts'
import {
  firstWavelength,
  illuminantSpectrum,
  illuminantWhite,
  sampleCount,
  spectrumToXyz,
} from '../color/spectrum.ts'
import { fresnel } from './fresnel.ts'
import { metalReflectance } from './metal.ts'
import { fromNodes, nodeColors, nodeCount, smoothestFilter } from './smooth.ts'

/** A coloured lacquer as a filter. */
export interface Tint {
  /** Transmittance in one pass, straight on, 401 samples; on a slant it is t^(1/cosθ). */
  readonly once: Float64Array
  /** Whether the flat mirror has the colour asked for, within {@link near}; otherwise it is a greyer one that it can have. */
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
  const clear = colorOf(base)
  const colors = nodeColors('D50')
  const flat = new Float64Array(nodeCount)
  const filter = (part: number): Float64Array | null => {
    const L = Math.min(lab[0], clear[0])
    const color: Lab = [L, clear[1] + part * (lab[1] - clear[1]), clear[2] + part * (lab[2] - clear[2])]
    return smoothestFilter(labToXyz(color, illuminantWhite('D50')), atNodes, colors, flat)
  }
  const z = deltaE2000(lab, clear) < near / 4 ? flat : (filter(1) ?? nearest(filter, clear[0] - lab[0]))
  const once = fromNodes(z.map(v => Math.exp(v / 2)))
  const given = colorOf(base.map((v, i) => v * once[i]! ** 2))
  return { once, exact: deltaE2000(lab, given) < near, lab: given }
}

/** A difference that no instrument and no eye finds on foil, ΔE00. */
const near = 0.5
const halvings = 6

/** The most vivid filter of its lightness, by halving; grey where there is none. @param darker L* below clear metal */
function nearest(filter: (part: number) => Float64Array | null, darker: number): Float64Array {
  let [low, high] = [0, 1]
  // Grey of the metal's own kind: one factor everywhere, (L* + 16)³ as the lightness falls.
  let best = filter(0) ?? new Float64Array(nodeCount).fill(3 * Math.log1p(-Math.max(0, darker) / 108))
  for (let i = 0; i < halvings; i++) {
    const part = (low + high) / 2
    const found = filter(part)
    if (found === null) high = part
    else {
      best = found
      low = part
    }
  }
  return best
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
