import { cellVariance } from '../optics/blur.ts'
import { discSpread, eyeSpread } from '../optics/rays.ts'
import { defaultBoard } from '../optics/scene.ts'

/**
 * One view: its grating vector in the set's middle, cycles/µm, x right, y up, and how the vector changes a mm to the
 * right and up (a symmetric matrix), so that the whole area shows one view to an eye at the design distance.
 */
export interface ViewChannel {
  readonly kx: number
  readonly ky: number
  readonly xx: number
  readonly xy: number
  readonly yy: number
}

/** Gratings of views that lie side by side finer than the eye sees, and where each is meant to be seen. */
export interface ViewDesign {
  readonly channels: readonly ViewChannel[]
  /** Middle, mm from the panel's lower left corner, y up. */
  readonly centerXMm: number
  readonly centerYMm: number
  /** Covariance of every channel's vector, cycles²/µm², x right, y up: what makes neighbours meet. */
  readonly spreadXX: number
  readonly spreadXY: number
  readonly spreadYY: number
  /** Angle of each view from straight-on, radians, in the plane of the fan; rises. */
  readonly angles: readonly number[]
  /** Unit vector along which the eye moves from view to view. */
  readonly fanX: number
  readonly fanY: number
}

/** The light and the eyes that a set of views is made for. */
export interface ViewGeometry {
  /** 2..16 */
  readonly count: number
  /** The fan reaches from −fan to +fan, radians. */
  readonly fan: number
  /** Direction along which the eye moves from the first view to the last, radians from the panel's right. */
  readonly direction: number
  /**
   * `turn`: the lamp stands square to the fan, a quarter turn counter-clockwise from its direction, and each view has a
   * grating direction of its own. `tilt`: the lamp stands along the fan and each view has a pitch of its own.
   */
  readonly coding: 'turn' | 'tilt'
  /** Of the lamp, from the panel's plane, radians. */
  readonly lampElevation: number
  /** Wavelength that reaches the eye from every view, nm. */
  readonly wavelength: number
  /** From the set's middle, mm. */
  readonly lampDistance: number
  readonly eyeDistance: number
  readonly centerXMm: number
  readonly centerYMm: number
}

/**
 * Standard deviation of a view over the step to the next, as the eye sees it. Gaussians this wide sum to one within
 * 2 exp(−2π² 0.42²) = 6 % all along the fan, and at the middle of a view its neighbour has exp(−1 / (2 · 0.42²)) = 6 %.
 */
export const viewOverlap = 0.42

/**
 * Gratings that send the design wavelength of the design lamp to each of the design eyes, in order 1, at every place
 * of the set: κ = (l + v)_t / λ. Along the fan the vectors spread so that a view, blurred by a lamp of 20 mm, a pupil
 * of 4 mm and the assumed board, is {@link viewOverlap} steps wide; the spread lies along the fan alone, so the wavelength
 * stays while the eye moves from view to view. Views that differ in pitch do not spread: there the rainbow of one runs
 * into that of the next.
 * Source of the geometry: the conical grating equation in direction cosines, see `optics/grating.ts`.
 */
export function viewDesign(geometry: ViewGeometry): ViewDesign {
  const { count, fan, direction, coding, lampElevation, wavelength: λ } = geometry
  const [fanX, fanY] = [Math.cos(direction), Math.sin(direction)]
  const flat = Math.cos(lampElevation)
  // Tangential part of the unit vector to the lamp.
  const [lampX, lampY] = coding === 'turn' ? [-flat * fanY, flat * fanX] : [flat * fanX, flat * fanY]
  const angles = Array.from({ length: count }, (_, i) => fan * ((2 * i) / (count - 1) - 1))
  const perMicrometre = 1000 / λ
  const channels = angles.map((angle): ViewChannel => {
    const s = Math.sin(angle)
    const [eyeX, eyeY] = [s * fanX, s * fanY]
    // A place aside sees lamp and eye turned by −(1 − l lᵀ) / distance.
    const change = (same: number, lamp: number, eye: number) =>
      -perMicrometre * ((same - lamp) / geometry.lampDistance + (same - eye) / geometry.eyeDistance)
    return {
      kx: perMicrometre * (lampX + eyeX),
      ky: perMicrometre * (lampY + eyeY),
      xx: change(1, lampX * lampX, eyeX * eyeX),
      xy: change(0, lampX * lampY, eyeX * eyeY),
      yy: change(1, lampY * lampY, eyeY * eyeY),
    }
  })
  const variance = coding === 'turn' ? fanVariance(geometry) * perMicrometre ** 2 : 0
  return {
    channels,
    centerXMm: geometry.centerXMm,
    centerYMm: geometry.centerYMm,
    spreadXX: variance * fanX * fanX,
    spreadXY: variance * fanX * fanY,
    spreadYY: variance * fanY * fanY,
    angles,
    fanX,
    fanY,
  }
}

/** Step between neighbouring views in the eye's direction cosine along the fan. */
export function viewStep({ count, fan }: Pick<ViewGeometry, 'count' | 'fan'>): number {
  return (2 * Math.sin(fan)) / (count - 1)
}

/** Deviation of the direction along the fan that lamp, pupil and board bring by themselves, in direction cosines. */
export function ownBlur({
  lampElevation,
  lampDistance,
  eyeDistance,
}: Pick<ViewGeometry, 'lampElevation' | 'lampDistance' | 'eyeDistance'>): number {
  const waves = defaultBoard.waviness * (1 + Math.sin(lampElevation))
  const [, cell] = cellVariance(defaultBoard)
  const lamp = discSpread(designLampRadius, lampDistance)
  return Math.sqrt(lamp ** 2 + eyeSpread(eyeDistance) ** 2 + waves ** 2 + cell)
}

/** mm */
const designLampRadius = 10

/** Variance of the direction along the fan that the gratings must add to what is blurred anyway. */
function fanVariance(geometry: ViewGeometry): number {
  return Math.max(0, (viewOverlap * viewStep(geometry)) ** 2 - ownBlur(geometry) ** 2)
}

/**
 * Grating vector of a channel at a place of the panel, mm from its lower left corner, cycles/µm; returns `out`.
 */
export function channelVector(
  channel: ViewChannel,
  center: Pick<ViewDesign, 'centerXMm' | 'centerYMm'>,
  xMm: number,
  yMm: number,
  out: [number, number],
): [number, number] {
  const x = xMm - center.centerXMm
  const y = yMm - center.centerYMm
  out[0] = channel.kx + channel.xx * x + channel.xy * y
  out[1] = channel.ky + channel.xy * x + channel.yy * y
  return out
}
