import { firstWavelength, sampleCount } from '../color/spectrum.ts'
import { straightThrough, type WhiteArea } from './coats.ts'
import { orderPower } from './efficiency.ts'
import { fresnel, refracted } from './fresnel.ts'
import { smoothPart } from './haze.ts'
import type { Grating, Stack } from './matter.ts'
import { pathReflectance } from './metal.ts'
import { facing } from './order-share.ts'
import { plainPrinting, straightInk } from './print.ts'
import { type Direction, slantOf } from './rays.ts'
import type { Board } from './scene.ts'
import { tintFilter } from './tint.ts'

/** What lies between a line of directions and the eye at one spot. */
export interface Line {
  /** Share of the light from `towards` that reaches the eye in order m of a grating, sample i; 1 = a perfect mirror's. */
  readonly share: (grating: Grating | null, m: number, i: number, towards: Direction) => number
}

/** Slants between which the inks' straight path is taken as a straight logarithm; the last is both ways grazing. */
const slantStep = 0.08
const slantCount = 10

/**
 * Orders by direction, for light that comes from all over or from a wide lamp: surface, metal, inks and whites on each
 * direction's own slant.
 * @param light relative power, 401 samples
 */
export function lineOf(
  stack: Stack,
  eye: Direction,
  board: Board,
  light: Float64Array,
  areas: readonly WhiteArea[],
): Line {
  const coat = board.lacquerIndex
  const cosEye = refracted(eye[2], coat)
  const leaving = 1 - fresnel(eye[2], coat)
  const tint = tintFilter(board.tint, coat)
  const paths = Array.from({ length: slantCount }, (_, k) =>
    straightInk(stack, stack.printing ?? plainPrinting, 2 + k * slantStep),
  )
  const inkAt = (i: number, slant: number) => {
    const at = (slant - 2) / slantStep
    const k = Math.max(0, Math.min(Math.floor(at), slantCount - 2))
    const first = paths[k]![i]!
    return first === 0 ? 0 : first * (paths[k + 1]![i]! / first) ** (at - k)
  }
  return {
    share: (grating, m, i, towards) => {
      const λ = firstWavelength + i
      const cosLamp = refracted(towards[2], coat)
      const slant = slantOf(cosLamp, cosEye)
      const q = coat * (cosLamp + cosEye)
      const order = grating === null ? 1 : orderPower(grating, facing(m, board.readFrom), λ, q, coat)
      return (
        stack.metal *
        leaving *
        (1 - fresnel(towards[2], coat)) *
        light[i]! *
        (tint === null ? 1 : tint[i]! ** slant) *
        pathReflectance(λ, cosLamp, cosEye, coat) *
        smoothPart(board.microRoughness, λ, q) *
        order *
        straightThrough(areas, slant) *
        inkAt(i, slant)
      )
    },
  }
}

/**
 * Light of one order ≠ 0 along its line of directions l_t = −v_t + (mλ/d) g, every nanometre, 401 samples.
 * @param weigh what is seen in a direction: radiance, or the part of a lamp; 0 where it has no light
 */
export function alongLine(
  line: Line,
  grating: Grating,
  m: number,
  eye: Direction,
  weigh: (towards: Direction, λ: number) => number,
): Float64Array {
  const [gx, gy] = [Math.cos(grating.azimuth), Math.sin(grating.azimuth)]
  return Float64Array.from({ length: sampleCount }, (_, i) => {
    const λ = firstWavelength + i
    const step = (m * λ) / grating.pitch
    const x = step * gx - eye[0]
    const y = step * gy - eye[1]
    const z2 = 1 - x * x - y * y
    if (z2 <= 0) return 0
    const towards: Direction = [x, y, Math.sqrt(z2)]
    const seen = weigh(towards, λ)
    return seen === 0 ? 0 : grating.share * seen * line.share(grating, m, i, towards)
  })
}
