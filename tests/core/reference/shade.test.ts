import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { blazed, rectangular, sampled } from '../../../core/optics/groove.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import type { Rays } from '../../../core/optics/rays.ts'
import { type Board, defaultBoard, type IlluminantName } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { emptySite, shade } from '../../../core/reference/shade.ts'
import { foil, platesOf, raysOf, sinusoid, siteOf, toward } from '../../support/optics.ts'

const none = { up: [0, 0.8, 0.6], level: 0 } as const
const room = { up: [0, 0.8, 0.6], level: 0.1 } as const

function both(
  stack: Stack,
  rays: Rays,
  illuminant: IlluminantName,
  surround = none as typeof room | typeof none,
  board = defaultBoard,
) {
  const tables = bakedFor(stack, illuminant, board)
  const fast = shade(siteOf(stack, rays, tables), tables, surround, new Float64Array(3))
  const slow = seen(stack, rays, illuminant, board, surround.level > 0 ? surround : null)
  const lit = underLamp(slow)
  return {
    fast: [fast[0]!, fast[1]!, fast[2]!] as XYZ,
    slow: [lit[0] + slow.room[0], lit[1] + slow.room[1], lit[2] + slow.room[2]] as XYZ,
  }
}

const baked = new Map<string, ReturnType<typeof bakeTables>>()
function bakedFor(stack: Stack, illuminant: IlluminantName, board: Board) {
  const key = JSON.stringify([illuminant, board, platesOf(stack)])
  const tables = baked.get(key) ?? bakeTables({ illuminant, board, ...platesOf(stack) })
  baked.set(key, tables)
  return tables
}

/** Difference of two colours when `bright` is exposed to white. */
function difference(a: XYZ, b: XYZ, bright: number, illuminant: IlluminantName): number {
  const lab = (c: XYZ) => xyzToLab([c[0] / bright, c[1] / bright, c[2] / bright], illuminantWhite(illuminant))
  return deltaE2000(lab(a), lab(b))
}

describe('the fast shading against the sum over every nanometre', () => {
  // Sweeps of tilt over gratings of 600–1400 lines/mm; exposure puts each sweep's peak at L* = 100 and points below
  // 0.1 % of it are left out. Twelve samples a band cannot be exact: a band is cut at 3.6 deviations and each stratum's
  // light is taken at its middle. Bounds are the model's: 2 ΔE00 at worst, means well below what an eye can see.
  test.each([
    ['D65', 0.0023, 'bare', [0, 0, 0, 0], 2, 0.2],
    ['D65', 0.01, 'bare', [0, 0, 0, 0], 2, 0.2],
    ['D65', 0.04, 'bare', [0, 0, 0, 0], 2, 0.6],
    ['D65', 0.01, 'magenta', [0, 1, 0, 0], 2, 0.2],
    ['D65', 0.04, 'yellow', [0, 0, 1, 0], 2, 0.6],
    ['A', 0.01, 'bare', [0, 0, 0, 0], 2, 0.2],
    ['D50', 0.04, 'magenta', [0, 1, 0, 0], 2, 0.6],
  ] as const)('%s, lamp spread %d, %s', (illuminant, spread, _, cmyk, worstAllowed, meanAllowed) => {
    let worst = 0
    let sum = 0
    let count = 0
    for (const lines of [600, 800, 1000, 1400])
      for (const aside of [0, 1.2]) {
        const stack: Stack = { ...foil({ ...sinusoid, pitch: 1e6 / lines }), cmyk }
        const points = []
        for (let tilt = -28.3; tilt < 55; tilt += 2.9) {
          const rays = raysOf(toward(30 - tilt, aside), toward(-tilt), spread)
          // The mirror order is hundreds of times brighter and has a test of its own.
          if (Math.abs(30 - 2 * tilt) > 12) points.push(both(stack, rays, illuminant))
        }
        const peak = Math.max(...points.map(p => p.slow[1]))
        for (const { fast, slow } of points) {
          if (slow[1] < 0.001 * peak) continue
          const e = difference(fast, slow, peak, illuminant)
          worst = Math.max(worst, e)
          sum += e
          count++
        }
      }
    expect(count).toBeGreaterThan(40)
    expect(worst).toBeLessThan(worstAllowed)
    expect(sum / count).toBeLessThan(meanAllowed)
  })

  const inked: Stack = { ...foil({ ...sinusoid, grooveDepth: 60, share: 0.7 }), cmyk: [0.3, 0.6, 0.1, 0.2] }
  const white = (coverage: number) => ({ coverage, opacity: 0.5, hits: 1 })
  const orange = { coverage: 0.7, lab: [60, 60, 70] as const }
  test.each<[string, Stack, Rays, number]>([
    ['mirror order, bare', foil({ ...sinusoid, grooveDepth: 80 }), raysOf(toward(15), toward(-15)), 0.5],
    ['mirror order through inks', inked, raysOf(toward(15), toward(-14.5)), 0.5],
    ['mirror order on a slant', inked, raysOf(toward(50), toward(-50)), 1],
    ['white under inks', { ...inked, whites: [white(1)] }, raysOf(toward(30), toward(0)), 1],
    ['screened whites', { ...inked, whites: [white(0.4), white(0.7)] }, raysOf(toward(30), toward(0)), 1],
    ['bare board', { ...inked, metal: 0, gratings: [] }, raysOf(toward(45), toward(0)), 0.5],
    ['half foil', { ...inked, metal: 0.5 }, raysOf(toward(45), toward(10)), 0.5],
    ['white on board', { ...inked, metal: 0, whites: [white(0.8)] }, raysOf(toward(45), toward(10)), 0.5],
    [
      'a spot ink on white',
      { ...inked, whites: [white(1)], spots: [orange] },
      raysOf(toward(30), toward(5)),
      1,
    ],
    ['a spot ink on foil', { ...inked, spots: [orange] }, raysOf(toward(30), toward(3)), 2],
    ['gloss', { ...inked, varnish: 0.6, whites: [white(1)] }, raysOf(toward(12), toward(-14)), 1],
    ['dark foil in the room', inked, raysOf(toward(40, 80), toward(20, 200)), 1],
    [
      'four gratings',
      foil(
        { ...sinusoid, share: 0.3, spreadAlong: 4e-5, spreadAcross: 1e-4 },
        { ...sinusoid, share: 0.3, azimuth: 0.02, groove: rectangular() },
        { ...sinusoid, share: 0.2, azimuth: 3.1, groove: blazed, grooveDepth: 180 },
        { ...sinusoid, share: 0.1, azimuth: -0.01, pitch: 2000 },
      ),
      raysOf(toward(34, 1), toward(2)),
      1,
    ],
    ['a coarse grating', foil({ ...sinusoid, pitch: 3500 }), raysOf(toward(34), toward(2)), 1],
  ])('%s', (_, stack, rays, allowed) => {
    const { fast, slow } = both(stack, rays, 'D65', room)
    expect(slow[1]).toBeGreaterThan(0.005)
    expect(difference(fast, slow, Math.max(1, slow[1]), 'D65'), `${fast} for ${slow}`).toBeLessThan(allowed)
  })

  const lopsided = sampled('lopsided', [0, 1, 3, 6, 10, 9, 3, 1])
  const rough: Board = { ...defaultBoard, microRoughness: 14, hazeSpread: 0.12 }
  const film: Board = { ...defaultBoard, readFrom: 'film' }
  const lit = raysOf(toward(34), toward(2))
  test.each<[string, Stack, Rays, Board, number]>([
    [
      'a duty of 30 %',
      foil({ ...sinusoid, groove: rectangular(0.3), grooveDepth: 70 }),
      lit,
      defaultBoard,
      1,
    ],
    // So deep that the cap takes part of the light.
    [
      'a deep rectangular groove',
      foil({ ...sinusoid, groove: rectangular(), grooveDepth: 200 }),
      lit,
      defaultBoard,
      1,
    ],
    [
      'its mirror order',
      foil({ ...sinusoid, groove: rectangular(), grooveDepth: 200 }),
      raysOf(toward(15), toward(-15)),
      defaultBoard,
      2,
    ],
    ['a measured profile', foil({ ...sinusoid, groove: lopsided, grooveDepth: 90 }), lit, defaultBoard, 1],
    ['the same through the film', foil({ ...sinusoid, groove: lopsided, grooveDepth: 90 }), lit, film, 1],
    ['a blaze through the film', foil({ ...sinusoid, groove: blazed, grooveDepth: 150 }), lit, film, 1],
    ['rough metal, an order', foil(sinusoid), lit, rough, 1],
    [
      'rough metal, an order on a slant',
      foil({ ...sinusoid, pitch: 700 }),
      raysOf(toward(68), toward(-10)),
      rough,
      1,
    ],
    [
      'rough metal, the mirror',
      foil({ ...sinusoid, grooveDepth: 60 }),
      raysOf(toward(20), toward(-20)),
      rough,
      1,
    ],
    [
      'rough metal, the haze',
      foil({ ...sinusoid, azimuth: 1.2 }),
      raysOf(toward(20), toward(-8, 20)),
      rough,
      1,
    ],
    ['the haze under inks', { ...inked, gratings: [] }, raysOf(toward(20), toward(-8, 20)), rough, 1.5],
    [
      'the haze under white',
      { ...foil(), whites: [white(0.5)] },
      raysOf(toward(20), toward(-8, 20)),
      rough,
      1,
    ],
    [
      'a colourless grating, coarse and strewn',
      foil({ ...sinusoid, pitch: 7000, spreadAlong: 0.3 / 7000, spreadAcross: 0.2 / 7000 }),
      raysOf(toward(12), toward(-6, 30)),
      defaultBoard,
      2,
    ],
  ])('%s', (_, stack, rays, board, allowed) => {
    const { fast, slow } = both(stack, rays, 'D65', none, board)
    expect(slow[1]).toBeGreaterThan(0.005)
    expect(difference(fast, slow, Math.max(1, slow[1]), 'D65'), `${fast} for ${slow}`).toBeLessThan(allowed)
  })
})

describe('shade', () => {
  const tables = bakeTables({ illuminant: 'D65', board: defaultBoard, whites: [{ opacity: 1, hits: 1 }] })
  const lit = siteOf(foil(sinusoid), raysOf(toward(30), toward(0)), tables)

  test('the lamp part grows with irradiance, the room does not', () => {
    const at = (irradiance: number, surround: typeof room | typeof none) =>
      shade({ ...lit, irradiance }, tables, surround, new Float64Array(3))[1]!
    expect(at(2, none)).toBeCloseTo(2 * at(1, none), 10)
    expect(at(2, room) - at(2, none)).toBeCloseTo(at(1, room) - at(1, none), 10)
    expect(at(0, none)).toBe(0)
  })

  test('the back of the panel and a lamp behind it are dark', () => {
    const out = new Float64Array(3)
    expect([...shade({ ...lit, eyeZ: -0.1 }, tables, room, out)]).toEqual([0, 0, 0])
    expect([...shade({ ...lit, lampZ: -0.1 }, tables, none, out)]).toEqual([0, 0, 0])
  })

  test('a white of 100 % opacity hides all holography', () => {
    const site = siteOf(foil(sinusoid), raysOf(toward(30), toward(0)), tables)
    site.whites[0] = 1
    const hidden = [...shade(site, tables, room, new Float64Array(3))]
    site.gratings = 0
    expect([...shade(site, tables, room, new Float64Array(3))]).toEqual(hidden)
  })

  test('what is kept from place to place does not show', () => {
    const rays = raysOf(toward(30), toward(0))
    const used = emptySite(tables)
    for (const ink of [0.9, 0, 0.4, 0.4]) {
      const fresh = siteOf({ ...foil(sinusoid), cmyk: [ink, ink / 2, 0, 0] }, rays, tables)
      Object.assign(used, { ...fresh, print: used.print })
      expect([...shade(used, tables, room, new Float64Array(3))]).toEqual([
        ...shade(fresh, tables, room, new Float64Array(3)),
      ])
    }
  })
})
