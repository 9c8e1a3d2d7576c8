import { sampleCount } from '../color/spectrum.ts'
import { type Area, softShare } from './area.ts'
import { type Blur, cellVariance, orderBlur, sceneBlur } from './blur.ts'
import { fresnel } from './fresnel.ts'
import { gloss } from './gloss.ts'
import { alongLine, type Line } from './line.ts'
import type { Grating } from './matter.ts'
import type { Direction, Rays } from './rays.ts'
import { mirrored } from './room.ts'
import type { Board } from './scene.ts'

/** Everything but the lamp that blurs a direction seen from the eye, in the frame of g. */
function blurWithoutLamp(
  eye: Direction,
  towards: Direction,
  eyeSpread: number,
  board: Board,
  g: Direction,
): Blur {
  return sceneBlur({ lamp: towards, eye, lampSpread: 0, eyeSpread }, board, g[0], g[1])
}

/** Part of the lamp that is seen towards a direction, the blur given in the frame of g. */
function seenPart(area: Area, towards: Direction, { uu, uw, ww }: Blur, [gx, gy]: Direction): number {
  return softShare(
    area,
    ...towards,
    uu * gx * gx - 2 * uw * gx * gy + ww * gy * gy,
    (uu - ww) * gx * gy + uw * (gx * gx - gy * gy),
    uu * gy * gy + 2 * uw * gx * gy + ww * gx * gx,
  )
}

const axisOf = (grating: Grating | null): Direction =>
  grating === null ? [1, 0, 0] : [Math.cos(grating.azimuth), Math.sin(grating.azimuth), 0]

/**
 * One order of a grating under a wide lamp, every nanometre: 401 samples in units of perfect white in the same place.
 * @param m not 0
 */
export function wideOrder(
  line: Line,
  grating: Grating,
  m: number,
  rays: Pick<Rays, 'eye' | 'eyeSpread'>,
  area: Area,
  board: Board,
): Float64Array {
  const g = axisOf(grating)
  const cells = cellVariance(board)
  const scale = Math.PI / area.light
  return alongLine(line, grating, m, rays.eye, (towards, λ) => {
    const scene = blurWithoutLamp(rays.eye, towards, rays.eyeSpread, board, g)
    const blur = orderBlur(
      scene,
      cells,
      m,
      λ,
      grating.spreadAlong,
      grating.spreadAcross,
      grating.spreadCovariance,
    )
    return scale * seenPart(area, towards, blur, g)
  })
}

/** Order 0 of a grating, or the mirror between gratings, under a wide lamp; as {@link wideOrder}. */
export function wideMirror(
  line: Line,
  grating: Grating | null,
  share: number,
  rays: Pick<Rays, 'eye' | 'eyeSpread'>,
  area: Area,
  board: Board,
): Float64Array {
  const g = axisOf(grating)
  const towards = mirrored(rays.eye)
  const scene = blurWithoutLamp(rays.eye, towards, rays.eyeSpread, board, g)
  const blur = grating === null ? scene : orderBlur(scene, cellVariance(board), 0, 0, 0, 0)
  const scale = (share * Math.PI * seenPart(area, towards, blur, g)) / area.light
  return Float64Array.from({ length: sampleCount }, (_, i) =>
    scale === 0 ? 0 : scale * line.share(grating, 0, i, towards),
  )
}

/** Small lamps for the gloss; see {@link tiles}. */
const glossTiles = 15

/**
 * Gloss of a wide lamp over perfect white in the same place: the sum of small lamps that tile it.
 * @param variance mean square slope
 */
export function wideGloss(rays: Rays, area: Area, coat: number, variance: number): number {
  let sum = 0
  for (const { towards, weight, spread } of tiles(area, glossTiles)) {
    if (towards[2] <= 0) continue
    sum += weight * towards[2] * gloss({ ...rays, lamp: towards, lampSpread: spread }, coat, variance)
  }
  return sum / area.light
}

/** Mean share of a wide lamp's light that enters the surface, and the mean of 1/cosθ inside: light by light. */
export function wideEntering(area: Area, coat: number): number {
  let sum = 0
  let light = 0
  for (const { towards, weight } of tiles(area, glossTiles)) {
    if (towards[2] <= 0) continue
    light += weight * towards[2]
    sum += weight * towards[2] * (1 - fresnel(towards[2], coat))
  }
  return light > 0 ? sum / light : 0
}

/** A small part of a lamp: direction, solid angle, and angular deviation about its middle. */
export interface LampTile {
  readonly towards: Direction
  readonly weight: number
  readonly spread: number
}

/**
 * The lamp as many small ones of equal area, spread as a lattice of Fibonacci numbers: from every side they lie evenly.
 * Together they have its solid angle; those below the panel have z ≤ 0.
 * @param size index of the Fibonacci number of small lamps: 13 gives 233, 15 gives 610
 */
export function tiles(area: Area, size: number): readonly LampTile[] {
  let [step, count] = [1, 1]
  for (let i = 1; i < size; i++) [step, count] = [count, step + count]
  const out: LampTile[] = []
  const { acrossX, acrossY, acrossZ, upX, upY, upZ } = area
  const nx = acrossY * upZ - acrossZ * upY
  const ny = acrossZ * upX - acrossX * upZ
  const nz = acrossX * upY - acrossY * upX
  const square = Math.hypot(nx, ny, nz)
  const part = ((area.round ? Math.PI : 4) * square) / count
  for (let i = 0; i < count; i++) {
    const s = (i + 0.5) / count
    const t = (i * step + 0.5) / count - Math.floor((i * step + 0.5) / count)
    const [a, b] = area.round
      ? [Math.sqrt(s) * Math.cos(2 * Math.PI * t), Math.sqrt(s) * Math.sin(2 * Math.PI * t)]
      : [2 * s - 1, 2 * t - 1]
    const x = area.x + a * acrossX + b * upX
    const y = area.y + a * acrossY + b * upY
    const z = area.z + a * acrossZ + b * upZ
    const d = Math.hypot(x, y, z)
    const facing = Math.abs(x * nx + y * ny + z * nz) / (square * d)
    out.push({
      towards: [x / d, y / d, z / d],
      weight: (part * facing) / (d * d),
      spread: Math.sqrt(part / 12) / d,
    })
  }
  return out
}
