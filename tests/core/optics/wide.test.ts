import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import { aimArea, emptyArea, type Outline } from '../../../core/optics/area.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import type { Rays } from '../../../core/optics/rays.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { tiles } from '../../../core/optics/seen-wide.ts'
import { type Seen, seen, underLamp } from '../../../core/optics/stack.ts'
import { lampOutline } from '../../../core/reference/light.ts'
import type { LampForm } from '../../../core/reference/scene.ts'
import { foil, sinusoid, toward } from '../../support/optics.ts'

const eyeSpread = 0.0025
const white = illuminantWhite('D65')

function raysTo(outline: Outline, eye: Rays['eye']): Rays & { readonly area: NonNullable<Rays['area']> } {
  const area = aimArea(outline, 0, 0, emptyArea())
  const lamp = [area.towardX, area.towardY, area.towardZ] as const
  return { lamp, eye, lampSpread: 0.05, eyeSpread, area }
}

/** The same lamp as many small ones, each weighted with what it gives white. */
function asMany(stack: Stack, rays: ReturnType<typeof raysTo>, n: number): Seen['diffracted'] {
  const sum = [0, 0, 0]
  let light = 0
  for (const { towards, weight, spread } of tiles(rays.area, n)) {
    if (towards[2] <= 0) continue
    const part = weight * towards[2]
    light += part
    const one = underLamp(
      seen(stack, { lamp: towards, eye: rays.eye, eyeSpread, lampSpread: spread }, 'D65', defaultBoard),
    )
    for (let c = 0; c < 3; c++) sum[c]! += part * one[c]!
  }
  return sum.map(v => v / light) as unknown as XYZ
}

function difference(a: XYZ, b: XYZ): number {
  const bright = Math.max(1, a[1], b[1])
  const lab = (c: XYZ) => xyzToLab([c[0] / bright, c[1] / bright, c[2] / bright], white)
  return deltaE2000(lab(a), lab(b))
}

const shape = (elevationDeg: number, distanceMm: number, form: LampForm, diameterMm = 1) =>
  lampOutline({ pose: { azimuthDeg: 0, elevationDeg, distanceMm, diameterMm }, form })
const rectangle = (widthMm: number, heightMm: number, rollDeg = 0): LampForm => ({
  kind: 'rectangle',
  widthMm,
  heightMm,
  rollDeg,
})
const magenta = (stack: Stack): Stack => ({ ...stack, cmyk: [0, 0.8, 0, 0] })
const thin = { coverage: 1, opacity: 0.3, hits: 1 }

describe('a wide lamp is the many small ones that tile it', () => {
  // 233 small lamps, each in the form for small lamps: all parts of the light together, seen over paper white or the
  // brighter of both. The lattice of small lamps is itself uneven by 5 % where a mirror is sharp on both axes.
  test.each<[string, Stack, Outline, Rays['eye']]>([
    ['a window in first order', foil(sinusoid), shape(50, 1500, rectangle(1000, 1000)), toward(4, 180)],
    [
      'the same through magenta',
      magenta(foil(sinusoid)),
      shape(50, 1500, rectangle(1000, 1000)),
      toward(4, 180),
    ],
    ['a strip across the grooves', foil(sinusoid), shape(60, 1000, rectangle(40, 600)), toward(0.3, 90)],
    ['a strip along the grooves', foil(sinusoid), shape(55, 800, rectangle(500, 60, 5)), toward(3, 181)],
    [
      'a big disc',
      foil({ ...sinusoid, azimuth: 0.3 }),
      shape(55, 400, { kind: 'disc' }, 160),
      toward(3, 170),
    ],
    [
      'its mirror image',
      foil({ ...sinusoid, grooveDepth: 60 }),
      shape(60, 600, rectangle(300, 200)),
      toward(29.5, 179),
    ],
    [
      'a window over thin white',
      { ...foil(sinusoid), whites: [thin] },
      shape(50, 1500, rectangle(900, 700)),
      toward(4),
    ],
    [
      'a varnish in the image of a window',
      { ...foil(), metal: 0, varnish: 1 },
      shape(60, 1500, rectangle(900, 700)),
      toward(29, 180),
    ],
  ])('%s', (_, stack, outline, eye) => {
    const rays = raysTo(outline, eye)
    const whole = underLamp(seen(stack, rays, 'D65', defaultBoard))
    const many = asMany(stack, rays, 13)
    expect(difference(whole, many), `${whole} for ${many}`).toBeLessThan(1.5)
  })
})

describe('where the two forms of a lamp meet', () => {
  // A disc as a normal distribution of the same spread, and as a disc: tilts through first order, exposed to the peak.
  test.each([
    [0.01, 1.5, 2.5],
    [0.02, 5, 7],
  ])('angular spread %d', (spread, meanAllowed, worstAllowed) => {
    const differences: number[] = []
    const points = []
    for (let polar = -8; polar <= 8; polar += 0.5) {
      const outline = shape(60, 400, { kind: 'disc' }, 4 * 400 * spread)
      const rays = raysTo(outline, toward(Math.abs(polar), polar < 0 ? 180 : 3))
      const { area: _, ...point } = { ...rays, lampSpread: spread }
      points.push([
        seen(foil(sinusoid), point, 'D65', defaultBoard).diffracted,
        seen(foil(sinusoid), rays, 'D65', defaultBoard).diffracted,
      ] as const)
    }
    const peak = Math.max(...points.map(([a]) => a[1]))
    for (const [a, b] of points) {
      if (Math.max(a[1], b[1]) < 0.01 * peak) continue
      const lab = (c: XYZ) => xyzToLab([c[0] / peak, c[1] / peak, c[2] / peak], white)
      differences.push(deltaE2000(lab(a), lab(b)))
    }
    const mean = differences.reduce((sum, d) => sum + d, 0) / differences.length
    expect(differences.length).toBeGreaterThan(10)
    expect(mean).toBeLessThan(meanAllowed)
    expect(Math.max(...differences)).toBeLessThan(worstAllowed)
  })
})
