import {
  firstWavelength,
  illuminantSpectrum,
  lastWavelength,
  sampleCount,
  spectrumToXyz,
} from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'
import { cellVariance, mirrorKernel, orderBand, orderBlur, sceneBlur, spreadWavelength } from './blur.ts'
import { type InkPath, inkPath, scattered, straightThrough, type WhiteArea, whiteAreas } from './coats.ts'
import { facing, orderPower } from './efficiency.ts'
import { fresnel, hemisphericalMean, refracted } from './fresnel.ts'
import { gloss, varnishRoughness } from './gloss.ts'
import { pathCosine } from './grating.ts'
import { hazeKernel, smoothPart } from './haze.ts'
import { processInks } from './ink.ts'
import type { Grating, Stack } from './matter.ts'
import { metalAlbedo, metalReflectance, pathReflectance } from './metal.ts'
import { type Rays, slantOf } from './rays.ts'
import { mirrored, roomMean, roomRadiance, type Surround } from './room.ts'
import type { Board, IlluminantName } from './scene.ts'
import { bandReach } from './tables.ts'
import { underSurface } from './white.ts'

/** An order whose band reaches into the visible, however weak. */
export interface SeenOrder {
  /** Index of its grating in the stack. */
  readonly grating: number
  /** Sign of (lamp + eye)·grating vector for orders in the middle of their band. */
  readonly m: number
  /** Middle and standard deviation of the band, nm. */
  readonly wavelength: number
  readonly deviation: number
  /** P·F·R in the middle: share of the power inside the coat, without area share, surface, white or ink. */
  readonly efficiency: number
  /** Its part of the light that reaches the eye; see {@link Seen}. */
  readonly color: XYZ
}

/** Light that reaches the eye from one spot, X, Y, Z in units of perfect white in the same place. */
export interface Seen {
  readonly orders: readonly SeenOrder[]
  /** All orders but 0. */
  readonly diffracted: XYZ
  /** Order 0 of the gratings and the mirror between them. */
  readonly mirror: XYZ
  /** What the metal's own roughness takes from the orders and the mirror, around the mirror's direction. */
  readonly haze: XYZ
  /** Top surface. */
  readonly gloss: XYZ
  /** White and bare board. */
  readonly diffuse: XYZ
  /** From the room, all of the above together; in units of perfect white under the lamp in the panel's middle. */
  readonly room: XYZ
}

/** Farthest order that can be visible: 5000 nm, lamp and eye both grazing, 380 nm. */
const farthestOrder = 27

/**
 * The slow truth: everything between lamp and eye at one spot, every nanometre, in double precision.
 * Lamp and eye must stand above the panel (z > 0); shares of the gratings sum to at most 1.
 */
export function seen(
  stack: Stack,
  rays: Rays,
  illuminant: IlluminantName,
  board: Board,
  surround: Surround | null = null,
): Seen {
  const { lamp, eye } = rays
  const coat = board.lacquerIndex
  const cosLamp = refracted(lamp[2], coat)
  const cosEye = refracted(eye[2], coat)
  const slant = slantOf(cosLamp, cosEye)
  const light = illuminantSpectrum(illuminant)
  const areas = whiteAreas(stack.whites)
  const ink = inkPath(stack, processInks(), slant)
  const passing = (1 - fresnel(lamp[2], coat)) * (1 - fresnel(eye[2], coat))
  const straight = stack.metal * passing * straightThrough(areas, slant)
  const foil = map(
    i =>
      straight * light[i]! * ink.straight[i]! * pathReflectance(firstWavelength + i, cosLamp, cosEye, coat),
  )
  const q = coat * (cosLamp + cosEye)
  const smooth = map(i => smoothPart(board.microRoughness, firstWavelength + i, q))
  const metal = foil.map((power, i) => power * smooth[i]!)
  const hazy = Math.PI * hazeKernel(rays, board)
  const orders: SeenOrder[] = []
  const diffracted = new Float64Array(sampleCount)
  const mirror = new Float64Array(sampleCount)
  stack.gratings.forEach((grating, index) => {
    addOrders(grating, index)
    addMirror(grating, grating.share)
  })
  addMirror(null, Math.max(0, 1 - stack.gratings.reduce((sum, g) => sum + g.share, 0)))

  const lobes = (rough: number) => gloss(rays, coat, rough ** 2)
  const glossy = (1 - stack.varnish) * lobes(board.glossRoughness) + stack.varnish * lobes(varnishRoughness)
  return {
    orders,
    diffracted: spectrumToXyz(diffracted),
    mirror: spectrumToXyz(mirror),
    haze: spectrumToXyz(foil.map((power, i) => hazy * power * (1 - smooth[i]!))),
    gloss: spectrumToXyz(map(i => glossy * light[i]!)),
    diffuse: spectrumToXyz(
      diffuseLight(stack.metal, areas, light, ink, slant, 1 - fresnel(lamp[2], coat), coat),
    ),
    room: surround ? roomLight(stack, rays, areas, light, coat, surround) : [0, 0, 0],
  }

  function addOrders(grating: Grating, index: number): void {
    const { pitch } = grating
    const [gx, gy] = [Math.cos(grating.azimuth), Math.sin(grating.azimuth)]
    const u = pathCosine(lamp, eye, gx, gy)
    const w = pathCosine(lamp, eye, -gy, gx)
    const scene = sceneBlur(rays, board, gx, gy)
    for (let m = -farthestOrder; m <= farthestOrder; m++) {
      if (m === 0) continue
      const λm = spreadWavelength(pitch, u, m)
      const blur = orderBlur(scene, cellVariance(board), m, λm, grating.spreadAlong, grating.spreadAcross)
      const band = orderBand(pitch, m, u, w, blur)
      const reach = bandReach * band.deviation
      if (band.middle + reach < firstWavelength || band.middle - reach > lastWavelength) continue
      const power = (λ: number) => orderPower(grating, facing(m, board.readFrom), λ, q, coat)
      const λ0 = Math.min(lastWavelength, Math.max(firstWavelength, band.middle))
      const scale = Math.PI * grating.share * band.weight
      const spectrum = new Float64Array(sampleCount)
      for (let i = 0; scale > 0 && i < sampleCount; i++) {
        const λ = firstWavelength + i
        const part = bandPart(λ, band.middle, band.deviation)
        if (part > 0) spectrum[i] = scale * part * power(λ) * metal[i]!
        diffracted[i]! += spectrum[i]!
      }
      orders.push({
        grating: index,
        m,
        wavelength: band.middle,
        deviation: band.deviation,
        efficiency: power(λ0) * pathReflectance(λ0, cosLamp, cosEye, coat),
        color: spectrumToXyz(spectrum),
      })
    }
  }

  function addMirror(grating: Grating | null, share: number): void {
    if (share === 0) return
    const [gx, gy] = grating ? [Math.cos(grating.azimuth), Math.sin(grating.azimuth)] : [1, 0]
    const scene = sceneBlur(rays, board, gx, gy)
    const blur = grating ? orderBlur(scene, cellVariance(board), 0, 0, 0, 0) : scene
    const u = pathCosine(lamp, eye, gx, gy)
    const scale = Math.PI * share * mirrorKernel(u, pathCosine(lamp, eye, -gy, gx), blur)
    for (let i = 0; i < sampleCount; i++) {
      const λ = firstWavelength + i
      const order0 = grating ? orderPower(grating, 0, λ, q, coat) : 1
      mirror[i]! += scale * order0 * metal[i]!
    }
  }
}

/** Everything of {@link Seen} under the lamp, as one colour: all orders, mirror, haze, gloss and diffuse, without the room. */
export function underLamp({ diffracted, mirror, haze, gloss, diffuse }: Seen): XYZ {
  const sum = (c: 0 | 1 | 2) => diffracted[c] + mirror[c] + haze[c] + gloss[c] + diffuse[c]
  return [sum(0), sum(1), sum(2)]
}

const map = (value: (i: number) => number) => Float64Array.from({ length: sampleCount }, (_, i) => value(i))

/** Share of a Gaussian band in the nanometre around λ; a narrow band is divided finer. */
function bandPart(λ: number, middle: number, deviation: number): number {
  const steps = deviation < 2 ? 16 : 1
  let sum = 0
  for (let k = 0; k < steps; k++) {
    const z = (λ - 0.5 + (k + 0.5) / steps - middle) / deviation
    sum += Math.exp((-z * z) / 2)
  }
  return sum / (steps * deviation * Math.sqrt(2 * Math.PI))
}

/** White over foil and over board, under the inks. */
function diffuseLight(
  metal: number,
  areas: readonly WhiteArea[],
  light: Float64Array,
  ink: InkPath,
  slant: number,
  passing: number,
  coat: number,
): Float64Array {
  const foil = metalAlbedo(coat)
  const inside = boardAlbedo(coat)
  return map(i => {
    const overFoil = metal === 0 ? 0 : metal * scattered(areas, foil[i]!, slant, passing)
    const overBoard = metal === 1 ? 0 : (1 - metal) * scattered(areas, inside[i]!, null, passing)
    return light[i]! * ink.scattered[i]! * (overFoil + overBoard)
  })
}

/** Reflectance of the bare board under its surface, from what an instrument sees at 45°. */
export function boardAlbedo(coat: number): Float64Array {
  const passing = 1 - fresnel(Math.SQRT1_2, coat)
  return processInks().board.map(seen => underSurface(seen, passing))
}

/** Share of light from all over that enters the top surface. */
export function evenlyEntering(coat: number): number {
  return 1 - hemisphericalMean(cos => fresnel(cos, coat))
}

/**
 * Light of the room, in a first form: the mirror order shows the room where the eye's mirror image looks; the other
 * orders, which gather from all over, show its mean; so does whatever scatters.
 */
function roomLight(
  stack: Stack,
  { eye }: Rays,
  areas: readonly WhiteArea[],
  light: Float64Array,
  coat: number,
  { up, level }: Surround,
): XYZ {
  const cos = refracted(eye[2], coat)
  const slant = slantOf(cos, cos)
  const q = 2 * coat * cos
  const glossy = fresnel(eye[2], coat)
  const image = level * roomRadiance(up, mirrored(eye))
  const mean = level * roomMean(up)
  const ink = inkPath(stack, processInks(), slant)
  const straight = stack.metal * (1 - glossy) ** 2 * straightThrough(areas, slant)
  const passing = evenlyEntering(coat)
  const diffuse = diffuseLight(stack.metal, areas, light, ink, slant, passing, coat)
  return spectrumToXyz(
    map(i => {
      const λ = firstWavelength + i
      let order0 = 1
      for (const g of stack.gratings) order0 -= g.share * (1 - orderPower(g, 0, λ, q, coat))
      const metal = straight * light[i]! * ink.straight[i]! * metalReflectance(λ, cos, coat)
      return metal * (order0 * image + (1 - order0) * mean) + glossy * image * light[i]! + mean * diffuse[i]!
    }),
  )
}
