import { firstWavelength, observer, type SampledLight, sampleCount } from '../../color/spectrum.ts'
import type { MaterialMap } from '../../material/map.ts'
import { bakeTables, type Tables } from '../../optics/bake.ts'
import { bakingOf } from '../../reference/baking.ts'
import { setLampBlur } from '../../reference/light.ts'
import type { Scene } from '../../reference/scene.ts'
import { emptySite, type Site, shade } from '../../reference/shade.ts'
import type { Vec3 } from '../../reference/vector.ts'

/** Middle of the reader's red, nm: what retail codes are verified at. */
export const readerWavelength = 660
/** Standard deviation of a red diode's line, nm: 20 nm at half height; common practice, no source. */
const readerDeviation = 8.5

/**
 * Red diode with a receiver that answers all of its light alike: the observer's own weight is divided out, so that Y
 * of its tables is reflectance.
 */
export const readerLight: SampledLight = {
  startNm: firstWavelength,
  stepNm: 1,
  values: Array.from({ length: sampleCount }, (_, i) => {
    const off = (firstWavelength + i - readerWavelength) / readerDeviation
    return Math.abs(off) > 4 ? 0 : Math.exp((-off * off) / 2) / observer.y[i]!
  }),
}

/**
 * Where a reader's light comes from, 45° from its receiver. `along`: from both ends of the bars, as the standard's
 * reference has it (ISO/IEC 15416, from memory). `ring`: from all round.
 */
export type ReaderForm = 'along' | 'ring'
export const readerForms = ['along', 'ring'] as const

/** How a reader is held over a symbol: turned from the normal by `tiltDeg`, towards `towards` (radians, panel frame). */
export interface ReaderPose {
  readonly tiltDeg: number
  readonly towards: number
}
export const upright: ReaderPose = { tiltDeg: 0, towards: 0 }

/** Half the angular radius of source and receiver, rad: small ones, so that a flash is as bright as it can be. */
const apertureSpread = 0.02
const ringSteps = 24

interface Beam {
  readonly lamp: Vec3
  readonly xx: number
  readonly xy: number
  readonly yy: number
  readonly mean: number
}

/** Reflectance as a reader measures it: 660 nm, lit at 45°, seen from 0°, over that of a perfect diffuser. */
export class ReaderLight {
  readonly #tables: Tables
  readonly #eye: Vec3
  readonly #beams: readonly Beam[]
  readonly #upright: boolean
  readonly #out = new Float64Array(3)

  /** @param barsAlong direction of the bars, radians from the panel's right, counter-clockwise */
  constructor(tables: Tables, form: ReaderForm, barsAlong: number, pose: ReaderPose = upright) {
    this.#tables = tables
    this.#eye = tilted([0, 0, 1], pose)
    this.#upright = pose.tiltDeg === 0
    const one = form === 'along'
    const azimuths = one
      ? [barsAlong, barsAlong + Math.PI]
      : Array.from({ length: ringSteps }, (_, i) => (2 * Math.PI * (i + 0.5)) / ringSteps)
    // A lamp of the ring stands for its part of it: even over a step is the step over √12.
    const side = one ? apertureSpread : (Math.SQRT1_2 * 2 * Math.PI) / ringSteps / Math.sqrt(12)
    this.#beams = azimuths.map(azimuth => beamAt(azimuth, side, pose))
  }

  /** @param site its matter is set; lamp and eye are set here */
  reflectance(site: Site): number {
    ;[site.eyeX, site.eyeY, site.eyeZ] = this.#eye
    site.eyeSpread = apertureSpread
    site.irradiance = 1
    // Without grooves all azimuths are alike to a receiver that looks straight down.
    const beams = this.#upright && site.gratings === 0 ? this.#beams.slice(0, 1) : this.#beams
    let sum = 0
    for (const { lamp, xx, xy, yy, mean } of beams) {
      ;[site.lampX, site.lampY, site.lampZ] = lamp
      setLampBlur(site, xx, xy, yy, mean)
      sum += shade(site, this.#tables, dark, this.#out)[1]!
    }
    return sum / beams.length
  }

  emptySite(): Site {
    return emptySite(this.#tables)
  }
}

const dark = { up: [0, 0, 1], level: 0 } as const

/**
 * Tables of the reader's light for a map. Of what passes a white, the metal below returns nothing here: how much of it
 * a receiver gets hangs on how a thin coat scatters, so that a code may not count on it. A white so has what its
 * measured opacity says over black.
 */
export function readerTables(
  scene: Pick<Scene, 'board' | 'whiteInk' | 'print'>,
  map: Parameters<typeof bakingOf>[2] & Pick<MaterialMap, 'whites'>,
): Tables {
  return { ...bakeTables(bakingOf(scene, readerLight, map)), foilAlbedo: [0, 0, 0] }
}

/** {@link readerTables}, kept while what they are made from stays the same. */
export function keptReaderTables(): typeof readerTables {
  let last: { readonly key: string; readonly condition: unknown; readonly tables: Tables } | null = null
  return (scene, map) => {
    const { printing, ...baking } = bakingOf(scene, readerLight, map)
    const { condition = null, ...rest } = printing ?? {}
    const key = JSON.stringify([baking, rest])
    // A print condition is large and is read once a file: it is told by being the same one.
    if (last?.key !== key || last.condition !== condition)
      last = { key, condition, tables: readerTables(scene, map) }
    return last.tables
  }
}

function beamAt(azimuth: number, side: number, pose: ReaderPose): Beam {
  const [c, s] = [Math.cos(azimuth), Math.sin(azimuth)]
  const lamp = tilted([Math.SQRT1_2 * c, Math.SQRT1_2 * s, Math.SQRT1_2], pose)
  const across = tilted([-s, c, 0], pose)
  const up = tilted([-Math.SQRT1_2 * c, -Math.SQRT1_2 * s, Math.SQRT1_2], pose)
  const [a, b] = [side ** 2, apertureSpread ** 2]
  return {
    lamp,
    xx: a * across[0] ** 2 + b * up[0] ** 2,
    xy: a * across[0] * across[1] + b * up[0] * up[1],
    yy: a * across[1] ** 2 + b * up[1] ** 2,
    mean: (a + b) / 2,
  }
}

/** Turned from the normal towards a direction in the panel's plane. */
function tilted([x, y, z]: Vec3, { tiltDeg, towards }: ReaderPose): Vec3 {
  const [c, s] = [Math.cos((tiltDeg * Math.PI) / 180), Math.sin((tiltDeg * Math.PI) / 180)]
  const [ux, uy] = [Math.cos(towards), Math.sin(towards)]
  const along = x * ux + y * uy
  const turned = along * c + z * s
  return [x + (turned - along) * ux, y + (turned - along) * uy, z * c - along * s]
}
