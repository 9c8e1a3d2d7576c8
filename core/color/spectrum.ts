import { illuminantStart, illuminantStep, illuminants } from '../data/illuminants.ts'
import { observer1931 } from '../data/observer.ts'
import type { Vector3 } from './matrix.ts'

/** Every spectrum in the program: one sample a nanometre from `firstWavelength`, `sampleCount` of them. */
export const firstWavelength = 380
export const lastWavelength = 780
export const sampleCount = lastWavelength - firstWavelength + 1

/** A name in the table of CIE illuminants. */
export type SpectrumName = keyof typeof illuminants

/** Relative spectral power at equal steps, straight between them; covers 380–780 nm. */
export interface SampledLight {
  /** Wavelength of the first value and step to the next, nm. */
  readonly startNm: number
  readonly stepNm: number
  /** ≥ 0, some above 0 in the visible. */
  readonly values: readonly number[]
}

/** What a lamp burns: an illuminant by its name, or a spectrum of the user's own. */
export type LightSource = SpectrumName | SampledLight

function observerAxis(values: readonly number[]): Float64Array {
  const skip = (firstWavelength - observer1931.start) / observer1931.step
  return Float64Array.from(values.slice(skip, skip + sampleCount))
}

/** CIE 1931 2° colour-matching functions, 380–780 nm. Source: CIE 015:2018, table T.4. */
export const observer: { readonly x: Float64Array; readonly y: Float64Array; readonly z: Float64Array } = {
  x: observerAxis(observer1931.x),
  y: observerAxis(observer1931.y),
  z: observerAxis(observer1931.z),
}

/**
 * Relative spectral power of a light, 401 samples, scaled so that Σ S ȳ = 1: a perfect white diffuser under it has
 * Y = 1. Linear between the 5 nm values of the table, as CIE 015 asks for D illuminants.
 */
export function illuminantSpectrum(source: LightSource): Float64Array {
  const { startNm, stepNm, values } = sampledOf(source)
  const spectrum = new Float64Array(sampleCount)
  let luminance = 0
  for (let i = 0; i < sampleCount; i++) {
    const at = (firstWavelength + i - startNm) / stepNm
    const below = Math.max(0, Math.min(Math.floor(at), values.length - 2))
    const part = at - below
    const value = values[below]! * (1 - part) + values[below + 1]! * part
    spectrum[i] = value
    luminance += value * observer.y[i]!
  }
  for (let i = 0; i < sampleCount; i++) spectrum[i]! /= luminance
  return spectrum
}

/** XYZ of a spectrum that is already scaled (see {@link illuminantSpectrum}): Σ spectrum · observer. */
export function spectrumToXyz(spectrum: Float64Array): Vector3 {
  let X = 0
  let Y = 0
  let Z = 0
  for (let i = 0; i < sampleCount; i++) {
    const power = spectrum[i]!
    X += power * observer.x[i]!
    Y += power * observer.y[i]!
    Z += power * observer.z[i]!
  }
  return [X, Y, Z]
}

function sampledOf(source: LightSource): SampledLight {
  if (typeof source !== 'string') return source
  return { startNm: illuminantStart, stepNm: illuminantStep, values: illuminants[source] }
}

/** White point of a light, Y = 1, summed over the same samples as every picture. */
export function illuminantWhite(source: LightSource): Vector3 {
  return spectrumToXyz(illuminantSpectrum(source))
}
