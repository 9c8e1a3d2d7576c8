import type { Baking } from '../../core/optics/bake.ts'
import { type Groove, grooveIndex, sinusoid as sinusoidGroove } from '../../core/optics/groove.ts'
import type { Grating, Stack } from '../../core/optics/matter.ts'
import type { Direction, Rays } from '../../core/optics/rays.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { setLampBlur } from '../../core/reference/light.ts'
import { emptySite, type Site } from '../../core/reference/shade.ts'

export const radians = (degrees: number) => (degrees * Math.PI) / 180
export const degrees = (angle: number) => (angle * 180) / Math.PI

/** A bare sinusoid of 1000 lines/mm, 100 nm deep, across x. */
export const sinusoid: Grating = {
  pitch: 1000,
  azimuth: 0,
  grooveDepth: 100,
  groove: sinusoidGroove,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}

/** Foil with nothing printed on it. */
export function foil(...gratings: Grating[]): Stack {
  return { metal: 1, gratings, whites: [], cmyk: [0, 0, 0, 0], spots: [], varnish: 0 }
}

/** Unit vector `polar` degrees from straight on, `azimuth` degrees from the panel's right. */
export function toward(polar: number, azimuth = 0): Direction {
  const flat = Math.sin(radians(polar))
  return [flat * Math.cos(radians(azimuth)), flat * Math.sin(radians(azimuth)), Math.cos(radians(polar))]
}

/** Lamp of 2.3° (standard deviation 0.01) and a pupil of 4 mm at 400 mm. */
export function raysOf(lamp: Direction, eye: Direction, lampSpread = 0.01): Rays {
  return { lamp, eye, lampSpread, eyeSpread: 0.0025 }
}

/** A lamp 30° from the eye, in the plane across the grooves; the panel is tilted by `tilt` degrees. */
export function tilted(tilt: number, lampSpread = 0.01): Rays {
  return raysOf(toward(30 - tilt), toward(-tilt), lampSpread)
}

/** Groove shapes of a stack, each once. */
export function groovesOf(stack: Stack): Groove[] {
  const list: Groove[] = []
  for (const { groove } of stack.gratings) grooveIndex(list, groove)
  return list
}

/** The plates and grooves that a stack needs, for baking. */
export function platesOf(stack: Stack): Pick<Baking, 'spots' | 'whites' | 'grooves' | 'printing'> {
  const { spots, whites, printing } = stack
  return { spots, whites, grooves: groovesOf(stack), ...(printing ? { printing } : {}) }
}

/** A stack under lamp and eye, as the fast shading takes it. */
export function siteOf(stack: Stack, rays: Rays, tables: Tables): Site {
  const site = emptySite(tables)
  ;[site.lampX, site.lampY, site.lampZ] = rays.lamp
  ;[site.eyeX, site.eyeY, site.eyeZ] = rays.eye
  const [lx, ly] = rays.lamp
  const spread2 = rays.lampSpread ** 2
  setLampBlur(site, spread2 * (1 - lx * lx), -spread2 * lx * ly, spread2 * (1 - ly * ly), spread2)
  site.eyeSpread = rays.eyeSpread
  site.metal = stack.metal
  site.varnish = stack.varnish
  site.unevenness = stack.unevenness ?? 0
  site.gratings = stack.gratings.length
  const grooves = groovesOf(stack)
  stack.gratings.forEach((g, i) => {
    site.directionX[i] = Math.cos(g.azimuth)
    site.directionY[i] = Math.sin(g.azimuth)
    site.pitch[i] = g.pitch
    site.grooveDepth[i] = g.grooveDepth
    site.groove[i] = grooveIndex(grooves, g.groove)
    site.share[i] = g.share
    site.spreadAlong[i] = g.spreadAlong
    site.spreadAcross[i] = g.spreadAcross
    site.spreadCovariance[i] = g.spreadCovariance ?? 0
  })
  site.inks.set(stack.cmyk)
  stack.whites.forEach((w, i) => {
    site.whites[i] = w.coverage
  })
  stack.spots.forEach((s, i) => {
    site.spots[i] = s.coverage
  })
  return site
}
