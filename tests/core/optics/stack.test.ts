import besselj0 from '@stdlib/math-base-special-besselj0'
import besselj1 from '@stdlib/math-base-special-besselj1'
import { describe, expect, test } from 'vitest'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantSpectrum, illuminantWhite, observer } from '../../../core/color/spectrum.ts'
import { cellVariance, mirrorKernel, orderBlur, sceneBlur } from '../../../core/optics/blur.ts'
import { orderPower } from '../../../core/optics/efficiency.ts'
import { fresnel, refracted } from '../../../core/optics/fresnel.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import { pathReflectance } from '../../../core/optics/metal.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { foil, raysOf, sinusoid, tilted, toward } from '../../support/optics.ts'

const grating = (lines: number) => ({ ...sinusoid, pitch: 1e6 / lines })
const look = (stack: Stack, rays: ReturnType<typeof tilted>) => seen(stack, rays, 'D65', defaultBoard)

describe('a sinusoid 100 nm deep under D65, lamp 30° from the eye', () => {
  // Computed apart from this code with the same model, orders up to 3, and printed to the digits below: lines/mm, tilt,
  // [m, λ, σ, efficiency %] of each order seen, X, Y, Z in units of paper white.
  const table: readonly [number, number, readonly (readonly number[])[], string, string, string][] = [
    [600, -20, [[3, 616, 5, 0.3]], '1.15', '.55', '0'],
    [600, -15, [[3, 537, 6, 0.6]], '.81', '3.04', '.10'],
    [
      600,
      -10,
      [
        [2, 680, 9, 3.4],
        [3, 454, 6, 1.6],
      ],
      '3.9',
      '.80',
      '15.6',
    ],
    [600, -5, [[2, 551, 9, 6.9]], '23.1', '51.2', '.61'],
    [600, 0, [[2, 417, 9, 14.7]], '11.5', '.41', '55.6'],
    [600, 5, [[1, 559, 20, 29.7]], '244', '397', '5.9'],
    [600, 25, [[-1, 559, 21, 29.7]], '243', '393', '6.6'],
    [600, 35, [[-2, 551, 10, 6.9]], '23.0', '51.0', '.65'],
    [1000, -20, [[2, 554, 5, 6.8]], '15.3', '30.8', '.21'],
    [1000, -15, [[2, 483, 5, 10.4]], '4.1', '8.2', '37.5'],
    [1000, -5, [[1, 661, 11, 27.2]], '35.7', '13.4', '0'],
    [1000, 0, [[1, 500, 11, 31.6]], '8.5', '107', '99.7'],
    [1000, 30, [[-1, 500, 12, 31.6]], '9.8', '108', '103'],
    [1000, 50, [[-2, 554, 6, 6.8]], '15.3', '30.7', '.22'],
    [1400, -25, [[2, 443, 3, 13.2]], '15.7', '1.3', '80.2'],
    [1400, -10, [[1, 583, 7, 31.7]], '175', '155', '.28'],
    [1400, -5, [[1, 472, 8, 32.8]], '42', '24.8', '282'],
    [1400, 35, [[-1, 472, 9, 32.8]], '42', '25.0', '281'],
    [1400, 40, [[-1, 583, 9, 31.7]], '174', '155', '.28'],
  ]

  test.each(table)('%i lines/mm tilted %i°', (lines, tilt, orders, ...XYZ) => {
    const { orders: found } = look(foil(grating(lines)), tilted(tilt))
    for (const [m, λ, σ, percent] of orders) {
      const order = found.find(o => o.m === m)!
      expect(Math.abs(order.wavelength - λ!)).toBeLessThanOrEqual(0.51)
      expect(Math.abs(order.deviation - σ!)).toBeLessThanOrEqual(0.51)
      expect(Math.abs(100 * order.efficiency - percent!)).toBeLessThanOrEqual(0.051)
    }
    XYZ.forEach((printed, c) => {
      const sum = found.filter(o => Math.abs(o.m) <= 3).reduce((total, o) => total + o.color[c]!, 0)
      const digit = 0.5 * 10 ** -(printed.split('.')[1]?.length ?? 0)
      const tolerance = Math.max(0.01 * Number(printed), digit * 1.02)
      expect(Math.abs(sum - Number(printed)), `${sum} for ${printed}`).toBeLessThanOrEqual(tolerance)
    })
  })

  test.each([5, 10, 15, 20, 25])('1000 lines/mm tilted %i° is dark beside the mirror order', tilt => {
    expect(Math.max(...look(foil(grating(1000)), tilted(tilt)).diffracted)).toBeLessThan(0.05)
  })
})

/**
 * Order ±1 of a lone bare sinusoid as a sum of 1 nm, written out from the formula with the library's J1: a second way.
 * The grating lies across x.
 */
function firstOrder(rays: ReturnType<typeof tilted>, pitch: number, depth: number): number[] {
  const { lamp, eye } = rays
  const light = illuminantSpectrum('D65')
  const n = 1.5
  const [u, w] = [lamp[0] + eye[0], lamp[1] + eye[1]]
  const noise = (0.003 * (lamp[2] + eye[2])) ** 2 + (0.376 * 0.55) ** 2 / 2500
  const of = (a: 0 | 1, b: 0 | 1, same: number) =>
    rays.lampSpread ** 2 * (same - lamp[a] * lamp[b]) +
    rays.eyeSpread ** 2 * (same - eye[a] * eye[b]) +
    same * noise
  const [uu, uw, ww] = [of(0, 0, 1), of(0, 1, 0), of(1, 1, 1)]
  const det = uu * ww - uw * uw
  const cosines = [lamp[2], eye[2]].map(c => Math.sqrt(1 - (1 - c * c) / (n * n))) as [number, number]
  const passing = (1 - fresnel(lamp[2], n)) * (1 - fresnel(eye[2], n))
  const sum = [0, 0, 0]
  for (let λ = 380; λ <= 780; λ++) {
    const du = u - (Math.sign(u) * λ) / pitch
    const kernel =
      Math.exp(-(ww * du * du - 2 * uw * du * w + uu * w * w) / (2 * det)) / (2 * Math.PI * Math.sqrt(det))
    const share = besselj1((Math.PI / λ) * depth * n * (cosines[0] + cosines[1])) ** 2
    const power = share * (1 + 0.5 * (λ / (n * pitch)) ** 2) * pathReflectance(λ, ...cosines, n)
    for (const [c, cmf] of [observer.x, observer.y, observer.z].entries())
      sum[c]! += Math.PI * kernel * power * passing * light[λ - 380]! * cmf[λ - 380]!
  }
  return sum
}

describe('first order by a second way', () => {
  test.each([
    ['in the plane', tilted(0), 1000, 100],
    ['on the other side', tilted(30), 1000, 100],
    ['a coarse one', tilted(5), 1667, 60],
    ['a large lamp', tilted(-5, 0.04), 1000, 80],
    ['lamp and eye out of the plane', raysOf(toward(32, 4), toward(3, 80), 0.02), 1000, 100],
  ])('%s', (_, rays, pitch, depth) => {
    const found = look(foil({ ...sinusoid, pitch, grooveDepth: depth }), rays)
    const first = found.orders.find(o => Math.abs(o.m) === 1)!
    // The same sum in another order of operations, but bands under 2 nm wide are divided finer.
    for (const [c, v] of firstOrder(rays, pitch, depth).entries())
      expect(first.color[c]! / v).toBeCloseTo(1, 6)
  })
})

describe('order 0, near straight on', () => {
  const straightOn = raysOf(toward(0), toward(0))
  // ∫ S ȳ R T² J0² under D65 for a sinusoid H nm deep, both surface passes, worked apart from this code; L*a*b* to whole units.
  test.each([
    [0, 0.809, [92, 0, -1]],
    [40, 0.636, [84, 0, 6]],
    [60, 0.462, [74, 1, 14]],
    [80, 0.28, [60, 3, 25]],
    [100, 0.131, [43, 8, 40]],
    [120, 0.038, [23, 19, 33]],
    [150, 0.011, [9, 21, -39]],
  ])('H = %i nm', (depth, Y, lab) => {
    const scene = orderBlur(sceneBlur(straightOn, defaultBoard, 1, 0), cellVariance(defaultBoard), 0, 0, 0, 0)
    const unit = Math.PI * mirrorKernel(0, 0, scene)
    const { mirror } = look(foil({ ...sinusoid, grooveDepth: depth }), straightOn)
    expect(Math.abs(mirror[1] / unit - Y)).toBeLessThanOrEqual(Math.max(0.01 * Y, 0.00051))
    const found = xyzToLab([mirror[0] / unit, mirror[1] / unit, mirror[2] / unit], illuminantWhite('D65'))
    for (const [i, v] of lab.entries()) expect(Math.abs(found[i]! - v), `${found}`).toBeLessThanOrEqual(0.6)
    const J = besselj0((2 * Math.PI * 1.5 * depth) / 550) ** 2
    if (depth === 60) expect(J * pathReflectance(550, 1, 1, 1.5) * 0.96 ** 2).toBeCloseTo(0.462, 2)
  })

  test('share 0 is a mirror', () => {
    const none = look(foil({ ...sinusoid, share: 0 }), straightOn)
    const plain = look(foil(), straightOn)
    expect(none.mirror).toEqual(plain.mirror)
    expect(Math.max(...none.diffracted)).toBe(0)
    expect(plain.orders).toEqual([])
  })
})

describe('a lamp from all over shows the power of each path', () => {
  // L = ∫ lamp direction: summed over a field of lamps, the mirror order gives ∫ S ȳ R T T and an order ∫ S ȳ η T T,
  // whatever the blur. White furnace for a mirror; the surface's T changes over the field, hence 0.3 %.
  function field(
    stack: Stack,
    part: 'mirror' | 'diffracted',
    spread: number,
    x0: number,
    x1: number,
    yMax: number,
  ): number {
    const step = 0.7 * spread
    let sum = 0
    for (let x = x0; x <= x1; x += step)
      for (let y = -yMax; y <= yMax; y += step) {
        const rays = raysOf([x, y, Math.sqrt(1 - x * x - y * y)], toward(0), spread)
        sum += (look(stack, rays)[part][1] * step * step) / Math.PI
      }
    return sum
  }
  const light = illuminantSpectrum('D65')
  const through = (value: (λ: number) => number) =>
    light.reduce((sum, v, i) => sum + v * observer.y[i]! * value(380 + i), 0)

  test('mirror', () => {
    const expected = through(λ => pathReflectance(λ, 1, 1, 1.5)) * 0.96 ** 2
    expect(field(foil(), 'mirror', 0.02, -0.1, 0.1, 0.1) / expected).toBeCloseTo(1, 2)
  })

  test('first order', () => {
    const stack = foil({ ...sinusoid, grooveDepth: 60 })
    const expected = through(λ => {
      const cosLamp = refracted(Math.sqrt(1 - (λ / 1000) ** 2), 1.5)
      const power = orderPower(stack.gratings[0]!, 1, λ, 1.5 * (cosLamp + 1), 1.5)
      const entering = 1 - fresnel(Math.sqrt(1 - (λ / 1000) ** 2), 1.5)
      return power * pathReflectance(λ, cosLamp, 1, 1.5) * entering * 0.96
    })
    // The second order shows λ/2 of the same lamps: below 380 nm over this field, but for its end.
    expect(Math.abs(field(stack, 'diffracted', 0.03, 0.26, 0.76, 0.12) / expected - 1)).toBeLessThan(0.01)
  })
})

describe('printed and whitened', () => {
  const white = (coverage: number, opacity: number) => [{ coverage, opacity, hits: 1 }]
  const lit = foil(sinusoid)

  test('perfect white board under the lamp is its measured colour at 45°', () => {
    const board: Stack = { ...foil(), metal: 0 }
    const { diffuse } = look(board, raysOf(toward(45), toward(0)))
    // FOGRA39L paper: L*a*b* 95 0 −2, of which D65 sees nearly the same.
    const lab = xyzToLab(diffuse, illuminantWhite('D65'))
    expect(Math.abs(lab[0] - 95)).toBeLessThan(0.1)
    expect(Math.abs(lab[2] + 2)).toBeLessThan(0.3)
  })

  test('a white of 100 % opacity hides all holography, 100 % coverage of a thinner one does not', () => {
    const hidden = look({ ...lit, whites: white(1, 1) }, tilted(0))
    expect(Math.max(...hidden.diffracted, ...hidden.mirror)).toBe(0)
    expect(hidden.diffuse[1]).toBeGreaterThan(0.9)
    const thin = look({ ...lit, whites: white(1, 0.3) }, tilted(0))
    expect(thin.diffracted[1]).toBeGreaterThan(0.02)
    expect(thin.diffracted[1]).toBeLessThan(0.05 * look(lit, tilted(0)).diffracted[1])
  })

  test('half a perfect white is half the holography and half the white', () => {
    const half = look({ ...lit, whites: white(0.5, 1) }, tilted(0))
    const bare = look(lit, tilted(0))
    const full = look({ ...lit, whites: white(1, 1) }, tilted(0))
    expect(half.diffracted[1]).toBeCloseTo(bare.diffracted[1] / 2, 9)
    expect(half.diffuse[1]).toBeCloseTo(full.diffuse[1] / 2, 12)
  })

  test('the more opaque a white, the less it shows whether foil or board is below', () => {
    const over = (metal: number, opacity: number) =>
      look({ ...foil(), metal, whites: white(1, opacity) }, raysOf(toward(45), toward(0))).diffuse[1]
    expect(over(0, 0.95) - over(1, 0.95)).toBeLessThan(over(0, 0.6) - over(1, 0.6))
    expect(over(0, 1) - over(1, 1)).toBeLessThan(1e-5)
  })

  test('magenta kills a green order, which a product of colours would not', () => {
    const green = tilted(-1.6)
    const bare = look(lit, green)
    const printed = look({ ...lit, cmyk: [0, 1, 0, 0] }, green)
    const order = bare.orders.find(o => o.m === 1)!
    expect(Math.abs(order.wavelength - 530)).toBeLessThan(25)
    expect(printed.diffracted[1] / bare.diffracted[1]).toBeLessThan(0.06)
  })

  test('varnish changes the gloss and nothing else', () => {
    const rays = raysOf(toward(10), toward(12, 180))
    const bare = look(lit, rays)
    const varnished = look({ ...lit, varnish: 1 }, rays)
    expect(varnished.gloss[1]).toBeGreaterThan(2 * bare.gloss[1])
    expect({ ...varnished, gloss: null }).toEqual({ ...bare, gloss: null })
  })

  test('the parts add up', () => {
    const all = look(
      { ...lit, whites: white(0.4, 0.5), cmyk: [0.2, 0.1, 0, 0] },
      raysOf(toward(29), toward(1)),
    )
    const sum = all.diffracted[1] + all.mirror[1] + all.gloss[1] + all.diffuse[1]
    expect(underLamp(all)[1]).toBeCloseTo(sum, 14)
    const orders = all.orders.reduce((total, o) => total + o.color[1], 0)
    expect(orders).toBeCloseTo(all.diffracted[1], 12)
  })
})

describe('the room', () => {
  const surround = { up: [0, 0.8, 0.6], level: 0.1 } as const

  test('keeps foil from being a black hole, and off is off', () => {
    const dark = raysOf(toward(60, 90), toward(0))
    expect(seen(foil(), dark, 'D65', defaultBoard, surround).room[1]).toBeGreaterThan(0.03)
    expect(seen(foil(), dark, 'D65', defaultBoard, null).room).toEqual([0, 0, 0])
  })

  test('a mirror never shows more than its brightest part', () => {
    for (const polar of [0, 30, 60, 80]) {
      const { room } = seen(foil(), raysOf(toward(20), toward(polar, 270)), 'D65', defaultBoard, surround)
      expect(room[1]).toBeLessThanOrEqual(0.1)
    }
  })

  test('straight on, mirror and gloss as worked', () => {
    const cos = 0.6
    const image = 0.1 * (0.2 + 0.8 * ((1 + cos) / 2) ** 2)
    const metal = illuminantSpectrum('D65').reduce(
      (sum, v, i) => sum + v * observer.y[i]! * pathReflectance(380 + i, 1, 1, 1.5),
      0,
    )
    const { room } = seen(foil(), raysOf(toward(20), toward(0)), 'D65', defaultBoard, surround)
    expect(room[1]).toBeCloseTo(image * (0.96 ** 2 * metal + 0.04), 9)
  })
})
