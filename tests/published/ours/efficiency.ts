import { BadInput } from '../../../core/base/finding.ts'
import { parseMaterial } from '../../../core/job/material-file.ts'
import { besselJ, groovePhase, orderPower, orderShare } from '../../../core/optics/efficiency.ts'
import { refracted } from '../../../core/optics/fresnel.ts'
import { diffracted, leaving } from '../../../core/optics/grating.ts'
import { blazed, type Groove, rectangular, sampled, sinusoid } from '../../../core/optics/groove.ts'
import { pathReflectance } from '../../../core/optics/metal.ts'
import rigorous from '../../fixtures/optics/rigorous.json'
import { toward } from '../../support/optics.ts'
import { ofName, ofNumbers, type Quantities } from '../row.ts'
import { peak, root } from './search.ts'

function grooveOf(name: string): Groove {
  if (name === 'sinusoid') return sinusoid
  if (name === 'rectangular') return rectangular()
  if (name === 'blazed') return blazed
  throw new Error(`no groove "${name}"`)
}

/** A blaze in `n` steps, kept as the 64 heights of any measured groove (hence a thousandth off a true stair); deep enough that a full wave is (n − 1) / n of the way. */
function stairShare(n: number): number {
  const perStep = 64 / n
  const stair = sampled(
    `${n} steps`,
    Array.from({ length: 64 }, (_, i) => Math.floor(i / perStep)),
  )
  return orderShare(stair, 1, (2 * Math.PI * (n - 1)) / n)
}

/** Depth, nm, at which the first order is brightest straight in and out under n = 1.5. */
function brightestDepth(groove: Groove, λ: number): number {
  const share = (depth: number) => orderShare(groove, 1, groovePhase(λ, depth, 3))
  // Land and groove are in step again at half a wave.
  return peak(share, 20, groove.shape === 'rectangular' ? λ / 3 - 10 : 300, 0.01)
}

interface Solved {
  readonly pitch_um: number
  readonly depth_um: number
  readonly lambda_um: number
  readonly n_lacquer: number
  readonly theta_air_deg: number
  readonly azimuth_deg?: number
}

/** The model's efficiency inside the lacquer; the file's light travels towards +x, so its lamp is ours mirrored. */
function modelled(groove: Groove, c: Solved | undefined, m: number): number {
  if (c === undefined) throw new Error('no such case')
  const [pitch, λ, coat] = [c.pitch_um * 1000, c.lambda_um * 1000, c.n_lacquer]
  const lamp = toward(c.theta_air_deg, c.azimuth_deg ?? 0)
  const eye = leaving(diffracted(lamp, 1, 0, pitch, λ, -m))
  if (eye === null) throw new Error('the order does not leave')
  const [cosLamp, cosEye] = [refracted(lamp[2], coat), refracted(eye[2], coat)]
  const relief = { groove, pitch, grooveDepth: c.depth_um * 1000 }
  // Turned by half a turn, order m of a groove that is its own mirror image is order −m.
  return orderPower(relief, m, λ, coat * (cosLamp + cosEye), coat) * pathReflectance(λ, cosLamp, cosEye, coat)
}

const solvedSinusoids: readonly Solved[] = rigorous.sinusoid
const solvedRectangles: readonly (Solved & { readonly duty: number })[] = rigorous.lamellar

/** Whether a groove is refused for its depth, in words that name it; depths and pitches in nm. */
function refusedAsTooDeep(pitchNm: number, grooveDepthNm: number): boolean {
  const grating = { pitchNm, azimuthDeg: 0, grooveDepthNm, shape: 'rectangular', share: 1 }
  try {
    parseMaterial(JSON.stringify({ cmyk: [0, 0, 0, 0], white: null, grating }), 'benchmark.json')
    return false
  } catch (problem) {
    if (problem instanceof BadInput) return /grooveDepthNm|groove is deeper/.test(problem.message)
    throw problem
  }
}

/** How the light is dealt out between the orders. */
export const efficiency: Quantities = {
  'Bessel J': ofNumbers(besselJ),
  'Bessel zero': ofNumbers((m, low, high) => root(x => besselJ(m!, x), low!, high!)),
  'Bessel peak': ofNumbers(m => {
    const x = peak(x => besselJ(m!, x) ** 2, m! * 0.8, m! * 1.2 + 1.2)
    return [x, besselJ(m!, x) ** 2]
  }),
  'sum of Bessel squares': ofNumbers(x => {
    let sum = besselJ(0, x!) ** 2
    for (let m = 1; m <= 27; m++) sum += 2 * besselJ(m, x!) ** 2
    return sum
  }),
  share: ofName((name, m, φ) => orderShare(grooveOf(name), m!, φ!)),
  'share of duty': ofNumbers((duty, m, φ) => orderShare(rectangular(duty!), m!, φ!)),
  'largest share': ofName((name, m) => {
    const at = peak(φ => orderShare(grooveOf(name), m!, φ), 2, 5)
    return orderShare(grooveOf(name), m!, at)
  }),
  'stair share': ofNumbers(stairShare),
  'refused as too deep': ofNumbers((pitch, depth) => Number(refusedAsTooDeep(pitch!, depth!))),
  'square amplitude grating': () => orderShare(rectangular(), 1, Math.PI) / 4,
  'sine amplitude grating': () => orderShare(sinusoid, 1, 0.001) / 0.001 ** 2,
  'brightest depth': ofName(name => [450, 550, 650].map(λ => brightestDepth(grooveOf(name), λ))),
  'first orders by depth': ofNumbers(λ =>
    [0, 40, 60, 80, 100, 120, 150].map(H => 100 * orderShare(sinusoid, 1, groovePhase(λ!, H, 3))),
  ),
  'orders of depth': ofNumbers((H, λ) =>
    [0, 1, 2].map(m => 100 * orderShare(sinusoid, m, groovePhase(λ!, H!, 3))),
  ),
  'efficiency of a solved sinusoid': ofNumbers((i, m) => modelled(sinusoid, solvedSinusoids[i!], m!)),
  'efficiency of a solved rectangle': ofNumbers((i, m) => {
    const solved = solvedRectangles[i!]
    if (solved === undefined) throw new Error('no such case')
    return modelled(rectangular(solved.duty), solved, m!)
  }),
}
