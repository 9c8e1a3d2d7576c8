import {
  firstWavelength,
  illuminantSpectrum,
  type LightSource,
  lastWavelength,
  sampleCount,
  spectrumToXyz,
} from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'
import { cellVariance, mirrorKernel, orderBand, orderBlur, sceneBlur, spreadWavelength } from './blur.ts'
import { scattered, straightThrough, type WhiteArea, whiteAreas } from './coats.ts'
import { facing, orderPower } from './efficiency.ts'
import { fresnel, hemisphericalMean, refracted } from './fresnel.ts'
import { gloss } from './gloss.ts'
import { pathCosine } from './grating.ts'
import { hazeKernel, smoothPart } from './haze.ts'
import { type Inks, inksOf } from './ink.ts'
import { alongLine, lineOf } from './line.ts'
import type { Grating, Stack } from './matter.ts'
import { metalAlbedo, pathReflectance } from './metal.ts'
import { type InkPath, inkPath, inksFor, paperTint, plainPrinting } from './print.ts'
import { type Direction, type Rays, slantOf } from './rays.ts'
import { mirrored, roomMean, roomRadiance, type Surround } from './room.ts'
import type { Board } from './scene.ts'
import { wideEntering, wideGloss, wideMirror, wideOrder } from './seen-wide.ts'
import { tintFilter } from './tint.ts'
import { coatedParts } from './varnish.ts'
import { chartBelow, underSurface } from './white.ts'

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
 * Lamp and eye must stand above the panel (z > 0); shares of the gratings sum to at most 1. A wide lamp is followed by
 * its outline; its haze is that of its middle.
 */
export function seen(
  stack: Stack,
  rays: Rays,
  illuminant: LightSource,
  board: Board,
  surround: Surround | null = null,
): Seen {
  const [first, second] = coatedParts(board, stack.varnish)
  const one = seenAlike(stack, rays, illuminant, first.board, surround)
  if (second === undefined) return one
  const other = seenAlike(stack, rays, illuminant, second.board, surround)
  return mixed(one, first.part, other, second.part)
}

/** Straight light of two parts of a spot; what scatters and shines is the same in both. */
function mixed(one: Seen, part: number, other: Seen, rest: number): Seen {
  const mix = (a: XYZ, b: XYZ): XYZ => [
    part * a[0] + rest * b[0],
    part * a[1] + rest * b[1],
    part * a[2] + rest * b[2],
  ]
  const same = (a: SeenOrder, b: SeenOrder) => a.grating === b.grating && a.m === b.m
  // The wider bands of the matte part are all that the other has, and some more.
  const base = one.orders.length >= other.orders.length ? one : other
  return {
    ...one,
    orders: base.orders.map(order => {
      const color = (found: Seen) => found.orders.find(o => same(o, order))?.color ?? [0, 0, 0]
      const shown = part >= rest ? one : other
      return {
        ...(shown.orders.find(o => same(o, order)) ?? order),
        color: mix(color(one), color(other)),
      }
    }),
    diffracted: mix(one.diffracted, other.diffracted),
    mirror: mix(one.mirror, other.mirror),
    haze: mix(one.haze, other.haze),
  }
}

/** The same where all straight light is blurred alike. */
function seenAlike(
  stack: Stack,
  rays: Rays,
  illuminant: LightSource,
  board: Board,
  surround: Surround | null,
): Seen {
  const { lamp, eye } = rays
  const coat = board.lacquerIndex
  const cosLamp = refracted(lamp[2], coat)
  const cosEye = refracted(eye[2], coat)
  const slant = slantOf(cosLamp, cosEye)
  const light = illuminantSpectrum(illuminant)
  const areas = whiteAreas(stack.whites, stack.unevenness, board.forwardness)
  const tint = tintFilter(board.tint, coat)
  const ink = inkPath(stack, stack.printing ?? plainPrinting, slant, illuminant)
  const entering = rays.area ? wideEntering(rays.area, coat) : 1 - fresnel(lamp[2], coat)
  const passing = (1 - fresnel(lamp[2], coat)) * (1 - fresnel(eye[2], coat))
  const straight = stack.metal * passing * straightThrough(areas, slant)
  const foil = map(
    i =>
      straight *
      light[i]! *
      ink.straight[i]! *
      (tint === null ? 1 : tint[i]! ** slant) *
      pathReflectance(firstWavelength + i, cosLamp, cosEye, coat),
  )
  const q = coat * (cosLamp + cosEye)
  const smooth = map(i => smoothPart(board.microRoughness, firstWavelength + i, q))
  const metal = foil.map((power, i) => power * smooth[i]!)
  const hazy = Math.PI * hazeKernel(rays, board)
  const line = rays.area === undefined ? null : lineOf(stack, eye, board, light, areas)
  const orders: SeenOrder[] = []
  const diffracted = new Float64Array(sampleCount)
  const mirror = new Float64Array(sampleCount)
  stack.gratings.forEach((grating, index) => {
    addOrders(grating, index)
    addMirror(grating, grating.share)
  })
  addMirror(null, Math.max(0, 1 - stack.gratings.reduce((sum, g) => sum + g.share, 0)))

  const lobes = (rough: number) =>
    rays.area ? wideGloss(rays, rays.area, coat, rough ** 2) : gloss(rays, coat, rough ** 2)
  const glossy =
    (1 - stack.varnish) * lobes(board.glossRoughness) + stack.varnish * lobes(board.varnishRoughness)
  return {
    orders,
    diffracted: spectrumToXyz(diffracted),
    mirror: spectrumToXyz(mirror),
    haze: spectrumToXyz(foil.map((power, i) => hazy * power * (1 - smooth[i]!))),
    gloss: spectrumToXyz(map(i => glossy * light[i]!)),
    diffuse: diffuseLight(stack, areas, light, ink, slant, entering, board),
    room: surround ? roomLight(stack, rays, areas, illuminant, board, surround) : [0, 0, 0],
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
      const blur = orderBlur(
        scene,
        cellVariance(board),
        m,
        λm,
        grating.spreadAlong,
        grating.spreadAcross,
        grating.spreadCovariance,
      )
      const band = orderBand(pitch, m, u, w, blur)
      const reach = lastingReach * band.deviation
      if (band.middle + reach < firstWavelength || band.middle - reach > lastWavelength) continue
      const power = (λ: number) => orderPower(grating, facing(m, board.readFrom), λ, q, coat)
      const λ0 = Math.min(lastWavelength, Math.max(firstWavelength, band.middle))
      const scale = Math.PI * grating.share * band.weight
      const spectrum =
        line && rays.area
          ? wideOrder(line, grating, m, rays, rays.area, board)
          : map(i => {
              const λ = firstWavelength + i
              const part = scale > 0 ? bandPart(λ, band.middle, band.deviation) : 0
              return part > 0 ? scale * part * power(λ) * metal[i]! : 0
            })
      for (let i = 0; i < sampleCount; i++) diffracted[i]! += spectrum[i]!
      const told = toldReach * band.deviation
      if (band.middle + told < firstWavelength || band.middle - told > lastWavelength) continue
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
    if (line && rays.area) {
      wideMirror(line, grating, share, rays, rays.area, board).forEach((power, i) => {
        mirror[i]! += power
      })
      return
    }
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

/** Deviations from the middle of a band at which nothing of it is left; no fast path's reach, for this judges them. */
const lastingReach = 8
/** Deviations beyond which an order is nothing that anybody is told of. */
const toldReach = 4

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
  { metal, printing = plainPrinting, chart }: Stack,
  areas: readonly WhiteArea[],
  light: Float64Array,
  ink: InkPath,
  slant: number,
  passing: number,
  { lacquerIndex: coat, tint: color }: Board,
): XYZ {
  const foil = metalAlbedo(coat, tintFilter(color, coat))
  const inside =
    chart === undefined
      ? boardAlbedo(coat, inksFor(printing))
      : new Float64Array(sampleCount).fill(chartBelow(chart))
  const lit = (of: 'all' | 'white') =>
    ink.scattered(
      map(i => {
        const overFoil = metal === 0 ? 0 : metal * scattered(areas, foil[i]!, slant, passing, of)
        const overBoard = metal === 1 ? 0 : (1 - metal) * scattered(areas, inside[i]!, null, passing, of)
        return light[i]! * (overFoil + overBoard)
      }),
    )
  const all = lit('all')
  const tint = paperTint(printing, 1 - fresnel(Math.SQRT1_2, coat))
  if (tint.every(part => part === 1)) return all
  const white = lit('white')
  return [0, 1, 2].map(c => all[c]! + (tint[c]! - 1) * white[c]!) as unknown as XYZ
}

/** Reflectance of the bare board under its surface, from what an instrument sees at 45°. */
export function boardAlbedo(coat: number, inks: Inks = inksOf()): Float64Array {
  const passing = 1 - fresnel(Math.SQRT1_2, coat)
  return inks.board.map(seen => underSurface(seen, passing))
}

/** Share of light from all over that enters the top surface. */
export function evenlyEntering(coat: number): number {
  return 1 - hemisphericalMean(cos => fresnel(cos, coat))
}

/**
 * Light of the room. Every order shows it by direction, order 0 and the metal's haze where the eye's mirror image looks;
 * what scatters shows its mean.
 */
function roomLight(
  stack: Stack,
  { eye }: Rays,
  areas: readonly WhiteArea[],
  illuminant: LightSource,
  board: Board,
  { up, level }: Surround,
): XYZ {
  const coat = board.lacquerIndex
  const light = illuminantSpectrum(illuminant)
  const line = lineOf(stack, eye, board, light, areas)
  const cos = refracted(eye[2], coat)
  const slant = slantOf(cos, cos)
  const q = 2 * coat * cos
  const glossy = fresnel(eye[2], coat)
  const towards = mirrored(eye)
  const image = roomRadiance(up, towards)
  const bare = Math.max(0, 1 - stack.gratings.reduce((sum, g) => sum + g.share, 0))
  const straight = map(i => {
    const foil = line.share(null, 0, i, towards)
    const smooth = smoothPart(board.microRoughness, firstWavelength + i, q)
    let seen = foil * (bare + (1 - smooth) / smooth) + glossy * light[i]!
    for (const g of stack.gratings) seen += g.share * line.share(g, 0, i, towards)
    return image * seen
  })
  const radiance = (from: Direction) => roomRadiance(up, from)
  for (const grating of stack.gratings)
    for (let m = -farthestOrder; stack.metal > 0 && m <= farthestOrder; m++) {
      if (m === 0) continue
      alongLine(line, grating, m, eye, radiance).forEach((power, i) => {
        straight[i]! += power
      })
    }
  const ink = inkPath(stack, stack.printing ?? plainPrinting, slant, illuminant)
  const diffuse = diffuseLight(stack, areas, light, ink, slant, evenlyEntering(coat), board)
  const direct = spectrumToXyz(straight)
  const mean = roomMean(up)
  const sum = (c: 0 | 1 | 2) => level * (direct[c] + mean * diffuse[c])
  return [sum(0), sum(1), sum(2)]
}
