import type { Tables } from '../../optics/tables.ts'
import { angularSpread, wideFrom } from '../../reference/light.ts'
import type { Scene } from '../../reference/scene.ts'
import type { Site } from '../../reference/shade.ts'
import { prepareWhites, straightThrough } from '../../reference/shade-white.ts'

/** A lamp as it bears on how narrow a flash is. */
export interface NarrowLamp {
  /** Rms radius on the mean of two axes, mm; of a wide lamp how finely its outline must be met. */
  readonly spreadMm: number
  /** Farthest and nearest part of a wide lamp's rim from its middle, mm; 0 for one that is not wide. */
  readonly rimMm: number
  readonly insetMm: number
  /** Stretch of the spectrum over which its light may change much, nm: 0 for one with lines. */
  readonly stretchNm: number
}

/** Lamps of a scene that burn, in its order. */
export function narrowLamps({ light }: Pick<Scene, 'light'>): readonly NarrowLamp[] {
  return light.lamps
    .filter(({ lux }) => lux > 0)
    .map((lamp): NarrowLamp => {
      const { pose, form, illuminant, spectrum } = lamp
      const stretchNm = spectrum !== null || illuminant.startsWith('FL') ? 0 : smoothNm
      const spread = angularSpread(lamp)
      if (spread <= wideFrom) return { spreadMm: spread * pose.distanceMm, rimMm: 0, insetMm: 0, stretchNm }
      const halves = form.kind === 'disc' ? [pose.diameterMm / 2] : [form.widthMm / 2, form.heightMm / 2]
      const insetMm = Math.min(...halves)
      const rimMm = form.kind === 'disc' ? insetMm : Math.hypot(...halves)
      return { spreadMm: insetMm / innerSteps, rimMm, insetMm, stretchNm }
    })
}

/** Over less than this, nm, daylight, white LEDs and the eye's own curve are straight enough. */
const smoothNm = 25
/** Parts of the radius of a wide lamp by which it is walked inside its rim. */
const innerSteps = 5

/** What can be narrow about a site. */
export interface Narrow {
  /** Mm from the panel's middle. */
  readonly x: number
  readonly y: number
  /** Variance of slopes of each lobe around the mirror direction: in (l_z + v_z)², and what is added to it. */
  readonly lobes: readonly { readonly slopes: number; readonly added: number }[]
  readonly gratings: readonly NarrowGrating[]
}

export interface NarrowGrating {
  readonly gx: number
  readonly gy: number
  /** nm */
  readonly pitch: number
  /** Cycles/nm. */
  readonly along: number
  readonly across: number
  readonly slopes: number
  readonly cellAlong: number
  readonly cellAcross: number
}

/** Metal that is covered so far shows nothing of its flashes, which are a few thousand times paper white at most. */
const leastSeen = 1e-7

/** Whether anything of the metal's flashes is seen through what lies on it. The whites are prepared. */
export const metalSeen = (site: Site): boolean => site.metal * straightThrough(site, 2) >= leastSeen

/** @param site filled with its matter; @param x, y mm from the panel's middle */
export function narrowOf(site: Site, tables: Tables, x: number, y: number): Narrow {
  prepareWhites(site, tables)
  const { varnish } = site
  const [bareSlopes, varnishedSlopes] = tables.wavinessVariances
  const slopes = varnish < 1 ? bareSlopes : varnishedSlopes
  const lobes = [
    // A lobe of slopes: exp(−tan²/variance), so half of it on each axis.
    ...(varnish < 1 ? [{ slopes: tables.glossVariance[0] / 2, added: 0 }] : []),
    ...(varnish > 0 ? [{ slopes: tables.glossVariance[1] / 2, added: 0 }] : []),
  ]
  if (!metalSeen(site)) return { x, y, lobes, gratings: [] }
  const used = Array.from({ length: site.gratings }, (_, i) => i).filter(i => site.share[i]! > 0)
  const plain = used.reduce((left, i) => left - site.share[i]!, 1)
  const leastCell = plain > 0 ? 0 : Math.min(...tables.cellVariance)
  lobes.push({ slopes, added: leastCell })
  if (tables.haze !== null) lobes.push({ slopes, added: tables.haze.variance })
  return {
    x,
    y,
    lobes,
    gratings: used
      .filter(i => site.pitch[i]! > 0)
      .map(i => ({
        gx: site.directionX[i]!,
        gy: site.directionY[i]!,
        pitch: site.pitch[i]!,
        along: site.spreadAlong[i]!,
        across: site.spreadAcross[i]!,
        slopes,
        cellAlong: tables.cellVariance[0],
        cellAcross: tables.cellVariance[1],
      })),
  }
}
