import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { type Lab, xyzToLab } from '../../../core/color/lab.ts'
import { illuminantSpectrum, illuminantWhite, observer } from '../../../core/color/spectrum.ts'
import { mirrorKernel, sceneBlur } from '../../../core/optics/blur.ts'
import { fresnel, refracted } from '../../../core/optics/fresnel.ts'
import { metalAlbedo, metalReflectance } from '../../../core/optics/metal.ts'
import { type Board, defaultBoard } from '../../../core/optics/scene.ts'
import { seen } from '../../../core/optics/stack.ts'
import { clearMirror, tintChoices, tintOf } from '../../../core/optics/tint.ts'
import { foil, raysOf, sinusoid, tilted, toward } from '../../support/optics.ts'

const look = (stack: Parameters<typeof seen>[0], rays: Parameters<typeof seen>[1], board: Partial<Board>) =>
  seen(stack, rays, 'D50', { ...defaultBoard, ...board })

/** Colour of the flat mirror, straight on, over that of perfect white: the mirror order without its kernel. */
function mirrorLab(board: Partial<Board>): Lab {
  const rays = raysOf(toward(0), toward(0))
  const { mirror } = look(foil(), rays, board)
  const unit = Math.PI * mirrorKernel(0, 0, sceneBlur(rays, { ...defaultBoard, ...board }, 1, 0))
  return xyzToLab([mirror[0] / unit, mirror[1] / unit, mirror[2] / unit], illuminantWhite('D50'))
}

describe('tinted metal', () => {
  // The law that the filter is solved for, through the whole slow truth.
  test.each(tintChoices.map(({ name, lab }) => [name, lab] as const))('%s has its colour', (_, lab) => {
    const { exact, once } = tintOf(lab, 1.5)
    expect(exact).toBe(true)
    // Filters are straight between nodes 10 nm apart: worst error 0.015.
    expect(deltaE2000(mirrorLab({ tint: lab }), lab)).toBeLessThan(0.02)
    expect(Math.max(...once)).toBeLessThanOrEqual(1)
    expect(Math.min(...once)).toBeGreaterThan(0)
  })

  test('clear metal is the tint of its own colour', () => {
    const clear = clearMirror(1.5)
    expect(deltaE2000(clear, mirrorLab({}))).toBeLessThan(1e-6)
    const { once, exact } = tintOf(clear, 1.5)
    expect(exact).toBe(true)
    expect(Math.min(...once)).toBeGreaterThan(0.999)
  })

  test.each([
    ['lighter than clear metal', [98, 0, 20]],
    ['too vivid', [70, 10, 127]],
  ] as const)('a colour %s is brought to one that can be', (_, lab) => {
    const { exact, lab: given } = tintOf(lab, 1.5)
    expect(exact).toBe(false)
    expect(deltaE2000(mirrorLab({ tint: lab }), given)).toBeLessThan(0.01)
    expect(given[0]).toBeLessThanOrEqual(clearMirror(1.5)[0] + 1e-6)
    expect(Math.hypot(given[1], given[2])).toBeLessThan(Math.hypot(lab[1], lab[2]))
  })

  // Beer's law along the slant: a second way, written out at one wavelength of a first order.
  test('orders cross the lacquer on their slant', () => {
    const tint: Lab = [79, 8, 46]
    const rays = raysOf(toward(60), toward(14.2, 180), 0.001)
    const grating = { ...sinusoid, spreadAlong: 0 }
    const bare = look(foil(grating), rays, {})
    const gold = look(foil(grating), rays, { tint })
    const order = bare.orders.find(o => o.color[1] > 0.1)!
    const slant = 1 / refracted(rays.lamp[2], 1.5) + 1 / refracted(rays.eye[2], 1.5)
    const t = tintOf(tint, 1.5).once[Math.round(order.wavelength) - 380]! ** slant
    const there = gold.orders.find(o => o.m === order.m)!
    // The band is some 12 nm wide and the filter nearly straight over it.
    expect(Math.abs(there.color[1] / order.color[1] / t - 1)).toBeLessThan(0.02)
    expect(gold.gloss).toEqual(bare.gloss)
  })

  test('a white over gold scatters gold light back', () => {
    const whites = [{ coverage: 1, opacity: 0.3, hits: 1 }]
    const rays = raysOf(toward(45), toward(0))
    const clear = look({ ...foil(), whites }, rays, {}).diffuse
    const gold = look({ ...foil(), whites }, rays, { tint: [79, 8, 46] }).diffuse
    expect(gold[2] / clear[2]).toBeLessThan(gold[0] / clear[0])
    expect(gold[2] / clear[2]).toBeLessThan(0.9)
    // The hemisphere crosses the lacquer on longer ways than straight on: its albedo is below R t².
    const { once } = tintOf([79, 8, 46], 1.5)
    const albedo = metalAlbedo(1.5, once)
    for (const i of [40, 100, 200])
      expect(albedo[i]!).toBeLessThan(metalReflectance(380 + i, 1, 1.5) * once[i]! ** 2)
    const opaque = [{ coverage: 1, opacity: 1, hits: 1 }]
    expect(look({ ...foil(), whites: opaque }, rays, { tint: [79, 8, 46] }).diffuse[2]).toBeCloseTo(
      look({ ...foil(), whites: opaque }, rays, {}).diffuse[2],
      4,
    )
  })
})

describe('matte varnish', () => {
  const matte = { varnishRoughness: 0.2, varnishScatter: 0.05 }
  const rays = tilted(0)
  const at = (varnish: number, board: Partial<Board> = matte) =>
    look({ ...foil(sinusoid), varnish }, rays, board)

  test('widens every band and lowers its peak', () => {
    const [gloss, dull] = [at(1, {}), at(1)]
    const order = (found: typeof gloss) => found.orders.find(o => o.m === 1)!
    // Two passes of σ: 2 σ² more in direction cosines straight on; the pitch turns them into nm.
    const more = 2 * 0.05 ** 2 * ((rays.lamp[2] + rays.eye[2]) / 2) ** 2
    expect(order(dull).deviation ** 2 - order(gloss).deviation ** 2).toBeCloseTo(1000 ** 2 * more, 6)
    expect(dull.diffracted[1]).toBeLessThan(gloss.diffracted[1])
    expect(dull.diffracted[1]).toBeGreaterThan(0)
  })

  test('covers in part: two parts of the area, each with its own kernel', () => {
    for (const c of [0.25, 0.5, 0.9]) {
      const part = at(c)
      for (const name of ['diffracted', 'mirror', 'haze', 'gloss'] as const)
        for (const i of [0, 1, 2] as const)
          expect(part[name][i]).toBeCloseTo((1 - c) * at(0)[name][i] + c * at(1)[name][i], 10)
      const orders = part.orders.reduce((sum, o) => sum + o.color[1], 0)
      expect(orders).toBeCloseTo(part.diffracted[1], 9)
    }
  })

  test('spreads the gloss by its own slope and leaves white alone', () => {
    const stack = { ...foil(), whites: [{ coverage: 1, opacity: 0.6, hits: 1 }], varnish: 1 }
    const straight = raysOf(toward(20), toward(20, 180))
    const [shiny, dull] = [look(stack, straight, {}), look(stack, straight, matte)]
    expect(dull.gloss[1]).toBeLessThan(0.05 * shiny.gloss[1])
    expect(dull.diffuse).toEqual(shiny.diffuse)
  })
})

describe('what lies on the metal', () => {
  test('the index of the coat sets what the surface throws back and what the metal does', () => {
    const rays = raysOf(toward(0), toward(0))
    const unit = Math.PI * mirrorKernel(0, 0, sceneBlur(rays, defaultBoard, 1, 0))
    for (const lacquerIndex of [1.4, 1.5, 1.6]) {
      const light = illuminantSpectrum('D50')
      const Y = light.reduce(
        (sum, v, i) => sum + v * observer.y[i]! * metalReflectance(380 + i, 1, lacquerIndex),
        0,
      )
      const { mirror } = look(foil(), rays, { lacquerIndex })
      expect(mirror[1] / unit).toBeCloseTo(Y * (1 - fresnel(1, lacquerIndex)) ** 2, 10)
    }
  })
})
