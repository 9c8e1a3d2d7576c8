import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { bandHalf, bandReachWide, kernelReach, maxOrder, type Tables } from '../optics/tables.ts'
import { addBand } from './shade-band.ts'
import { nothing, widestStill } from './shade-mirror.ts'
import type { Site } from './site.ts'

/** Whether the lamp's mirror image, or an order in its grating's groove direction, is near enough to the eye to be seen. */
export function anyLightNear(site: Site, tables: Tables): boolean {
  const hx = site.lampX + site.eyeX
  const hy = site.lampY + site.eyeY
  const hz = site.lampZ + site.eyeZ
  const [along, across] = tables.cellVariance
  const widest = widestStill(site, hz)
  if (hx * hx + hy * hy < 2 * nothing * (widest + Math.max(along, across))) return true
  for (let i = 0; i < site.gratings; i++) {
    const w = hy * site.directionX[i]! - hx * site.directionY[i]!
    const spread = maxOrder * lastWavelength * site.spreadAcross[i]!
    if (site.share[i]! > 0 && w * w <= kernelReach * kernelReach * (widest + across + spread * spread))
      return true
  }
  return false
}

/**
 * All orders but 0 of all gratings, of the lamp: adds `scale` · share · ∫ band · S · cmf · R · P · F · ink dλ.
 * @param x place of the slant between the tables' two
 * @param q q_l + q_v
 */
export function addOrders(
  site: Site,
  tables: Tables,
  x: number,
  q: number,
  scale: number,
  out: Float64Array,
): void {
  const hx = site.lampX + site.eyeX
  const hy = site.lampY + site.eyeY
  const hz = site.lampZ + site.eyeZ
  const { lampXX, lampXY, lampYY } = site
  const eye = site.eyeSpread * site.eyeSpread
  const waves = site.waviness * hz * hz
  const widest = widestStill(site, hz) + tables.cellVariance[1]
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    const pitch = site.pitch[i]!
    if (share <= 0 || pitch <= 0) continue
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const u = hx * gx + hy * gy
    const w = hy * gx - hx * gy
    const across = site.spreadAcross[i]!
    const spread = maxOrder * lastWavelength * across
    if (w * w > kernelReach * kernelReach * (widest + spread * spread)) continue
    const eyeU = site.eyeX * gx + site.eyeY * gy
    const eyeW = site.eyeY * gx - site.eyeX * gy
    const lampUU = lampXX * gx * gx + 2 * lampXY * gx * gy + lampYY * gy * gy
    const uu = lampUU + eye * (1 - eyeU * eyeU) + waves + tables.cellVariance[0]
    const uw = (lampYY - lampXX) * gx * gy + lampXY * (gx * gx - gy * gy) - eye * eyeU * eyeW
    const ww = lampXX + lampYY - lampUU + eye * (1 - eyeW * eyeW) + waves + tables.cellVariance[1]
    const along = site.spreadAlong[i]!
    const covariance = site.spreadCovariance[i]!
    // The slope lies between that of the scene and that of the spread alone.
    const steepest = Math.max(
      Math.abs(uw / ww),
      covariance === 0 ? 0 : Math.abs(covariance) / (across * across),
    )
    // Bounds of |m| on either side of the mirror order, so that few orders are looked at; each is judged below.
    const magnifiedMost = Math.max(pitch * Math.abs(u), maxOrder * firstWavelength) * along
    const margin = Math.abs(w * steepest) + bandReachWide * Math.sqrt(uu + magnifiedMost * magnifiedMost)
    for (let side = -1; side <= 1; side += 2) {
      const first = Math.max(1, Math.ceil((pitch * (side * u - margin)) / lastWavelength))
      const last = Math.min(maxOrder, Math.floor((pitch * (side * u + margin)) / firstWavelength))
      for (let n = first; n <= last; n++) {
        const m = side * n
        const magnified = n * Math.min(lastWavelength, Math.max(firstWavelength, (pitch * u) / m))
        const mu = magnified * along
        const mw = magnified * across
        const variance = ww + mw * mw
        if (w * w > kernelReach * kernelReach * variance) continue
        const leaning = uw + magnified * magnified * covariance
        const slope = leaning / variance
        const length = pitch / n
        const middle = side * length * (u - w * slope)
        const deviation = length * Math.sqrt(uu + mu * mu - leaning * slope)
        const half = bandHalf(deviation)
        const from = Math.max(firstWavelength, middle - half)
        const to = Math.min(lastWavelength, middle + half)
        if (from >= to) continue
        const kernel = Math.exp((-w * w) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance)
        const weight = scale * share * length * kernel
        const depth = site.grooveDepth[i]!
        addBand(
          site,
          tables,
          site.groove[i]!,
          m,
          pitch,
          depth,
          q,
          x,
          from,
          to,
          middle,
          deviation,
          weight,
          out,
        )
      }
    }
  }
}
