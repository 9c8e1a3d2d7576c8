import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { wavelengthSeen } from './grating.ts'
import type { Rays } from './rays.ts'
import type { Board } from './scene.ts'

/** Covariance of the tangential direction in a grating's frame: u along its vector, w along its grooves. */
export interface Blur {
  readonly uu: number
  readonly uw: number
  readonly ww: number
}

/** Standard deviation of a cell's own diffraction, in λ over the cell. Gaussian of the same half width as its sinc². */
const cellDiffraction = 0.376
/** Wavelength that stands for all in the cell's diffraction, nm. */
const cellWavelength = 550

/**
 * Blur of lamp, eye and waving board: s_L² (1 − l_t l_tᵀ) + s_V² (1 − v_t v_tᵀ) + s_n² (l_z + v_z)².
 * @param gx,gy unit vector of u
 */
export function sceneBlur(rays: Rays, board: Board, gx: number, gy: number): Blur {
  const { lamp, eye } = rays
  const lampU = lamp[0] * gx + lamp[1] * gy
  const lampW = lamp[1] * gx - lamp[0] * gy
  const eyeU = eye[0] * gx + eye[1] * gy
  const eyeW = eye[1] * gx - eye[0] * gy
  const L = rays.lampSpread ** 2
  const V = rays.eyeSpread ** 2
  const waves = (board.waviness * (lamp[2] + eye[2])) ** 2
  return {
    uu: L * (1 - lampU * lampU) + V * (1 - eyeU * eyeU) + waves,
    uw: -L * lampU * lampW - V * eyeU * eyeW,
    ww: L * (1 - lampW * lampW) + V * (1 - eyeW * eyeW) + waves,
  }
}

/** Variance that a grating's cells of finite size add, along and across the grating vector. */
export function cellVariance(board: Board): readonly [number, number] {
  const [along, across] = board.cell
  return [cell(along), cell(across)]
}
const cell = (μm: number) => ((cellDiffraction * cellWavelength) / (1000 * μm)) ** 2

/** Wavelength that scales the spread of the grating vector in order m: the band's middle, held to the visible. */
export function spreadWavelength(pitch: number, u: number, m: number): number {
  return Math.min(lastWavelength, Math.max(firstWavelength, wavelengthSeen(pitch, u, m)))
}

/** A blur with the cells, and with the spread of the grating vector (cycles/nm) as order m magnifies it. */
export function orderBlur(
  scene: Blur,
  cells: readonly [number, number],
  m: number,
  λ: number,
  along: number,
  across: number,
  covariance = 0,
): Blur {
  return {
    uu: scene.uu + cells[0] + (m * λ * along) ** 2,
    uw: scene.uw + (m * λ) ** 2 * covariance,
    ww: scene.ww + cells[1] + (m * λ * across) ** 2,
  }
}

/** The wavelengths that one order sends to the eye: a Gaussian around `middle`, both in nm; `middle` may be < 0. */
export interface Band {
  readonly middle: number
  readonly deviation: number
  /** Weight d/|m| · N(w; 0, Σww): L = E · weight · ∫ N(λ; middle, deviation) S η dλ. */
  readonly weight: number
}

export function orderBand(pitch: number, m: number, u: number, w: number, blur: Blur): Band {
  const slope = blur.uw / blur.ww
  return {
    middle: wavelengthSeen(pitch, u - w * slope, m),
    deviation: (pitch / Math.abs(m)) * Math.sqrt(blur.uu - blur.uw * slope),
    weight: (pitch / Math.abs(m)) * gaussian(w, blur.ww),
  }
}

/** Density of a centred normal distribution. */
export function gaussian(x: number, variance: number): number {
  return Math.exp((-x * x) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance)
}

/** Kernel of the mirror order, N(h; 0, Σ) in two dimensions. */
export function mirrorKernel(u: number, w: number, blur: Blur): number {
  const determinant = blur.uu * blur.ww - blur.uw * blur.uw
  const exponent = (blur.ww * u * u - 2 * blur.uw * u * w + blur.uu * w * w) / determinant
  return Math.exp(-exponent / 2) / (2 * Math.PI * Math.sqrt(determinant))
}
