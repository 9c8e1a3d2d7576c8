import { describe, expect, it } from 'vitest'
import type { EffectFrame, ViewField } from '../../../core/effects/effect.ts'
import { prepareEffect } from '../../../core/effects/kinds.ts'
import { type Picture, Raster } from '../../../core/effects/picture.ts'
import { channelVector, type ViewGeometry, viewDesign } from '../../../core/effects/views.ts'
import { wavelengthSeen } from '../../../core/optics/grating.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen } from '../../../core/optics/stack.ts'
import { foil, raysOf, sinusoid } from '../../support/optics.ts'

const degree = Math.PI / 180
const geometry: ViewGeometry = {
  count: 5,
  fan: 20 * degree,
  direction: 0,
  coding: 'turn',
  lampElevation: 60 * degree,
  wavelength: 530,
  lampDistance: 500,
  eyeDistance: 400,
  centerXMm: 40,
  centerYMm: 40,
}
const lamp = [0, Math.cos(60 * degree), Math.sin(60 * degree)] as const
const eyeAt = (angle: number) => [Math.sin(angle), 0, Math.cos(angle)] as const

describe('the gratings of a set of views', () => {
  it('send the design wavelength of the design lamp into each view’s eye', () => {
    // Conical grating equation in direction cosines (Harvey & Pfisterer 2019): (l + v)_t = m λ κ.
    for (const direction of [0, 0.7])
      for (const coding of ['turn', 'tilt'] as const) {
        const design = viewDesign({ ...geometry, direction, coding })
        const square = coding === 'turn' ? direction + Math.PI / 2 : direction
        const l = [Math.cos(square) * lamp[1], Math.sin(square) * lamp[1]] as const
        design.channels.forEach(({ kx, ky }, i) => {
          const s = Math.sin(design.angles[i]!)
          const h = [l[0] + s * Math.cos(direction), l[1] + s * Math.sin(direction)] as const
          const size = Math.hypot(kx, ky)
          const u = (h[0] * kx + h[1] * ky) / size
          expect(wavelengthSeen(1000 / size, u, 1)).toBeCloseTo(530, 9)
          expect((h[1] * kx - h[0] * ky) / size).toBeCloseTo(0, 12)
        })
      }
  })

  it('do so at places aside of the middle too', () => {
    const design = viewDesign(geometry)
    const at = (towards: readonly [number, number, number], distance: number, x: number, y: number) => {
      const v = [towards[0] * distance - x, towards[1] * distance - y, towards[2] * distance] as const
      const size = Math.hypot(...v)
      return [v[0] / size, v[1] / size] as const
    }
    design.channels.forEach((channel, i) => {
      const [x, y] = [15, -12]
      const l = at(lamp, 500, x, y)
      const v = at(eyeAt(design.angles[i]!), 400, x, y)
      const [kx, ky] = channelVector(channel, design, 40 + x, 40 + y, [0, 0])
      // Straight in the place: what is left is of the second order, (19 mm / 400 mm)² = 0.0023 at most.
      expect(Math.abs(l[0] + v[0] - 0.53 * kx)).toBeLessThan(0.0023)
      expect(Math.abs(l[1] + v[1] - 0.53 * ky)).toBeLessThan(0.0023)
    })
  })

  const design = viewDesign(geometry)
  /** Light that each view sends to an eye at an angle, summed every nanometre. */
  const lightAt = (angle: number) => {
    const gratings = design.channels.map(({ kx, ky }) => {
      const size = Math.hypot(kx, ky)
      const [gx, gy] = [kx / size, ky / size]
      const { spreadXX: xx, spreadXY: xy, spreadYY: yy } = design
      return {
        ...sinusoid,
        pitch: 1000 / size,
        azimuth: Math.atan2(ky, kx),
        grooveDepth: 60,
        share: 1 / design.channels.length,
        spreadAlong: Math.sqrt(Math.max(0, xx * gx * gx + 2 * xy * gx * gy + yy * gy * gy)) / 1000,
        spreadAcross: Math.sqrt(Math.max(0, xx * gy * gy - 2 * xy * gx * gy + yy * gx * gx)) / 1000,
        spreadCovariance: ((yy - xx) * gx * gy + xy * (gx * gx - gy * gy)) / 1e6,
      }
    })
    const { orders } = seen(foil(...gratings), raysOf(lamp, eyeAt(angle), 0.01), 'D65', defaultBoard)
    return design.channels.map((_, i) =>
      orders.filter(order => order.grating === i).reduce((sum, order) => sum + order.color[1], 0),
    )
  }

  it('shows each eye its own view, ten times as bright as any other', () => {
    design.angles.forEach((angle, i) => {
      const light = lightAt(angle)
      light.forEach((other, j) => {
        if (j !== i) expect(light[i]! / other).toBeGreaterThan(10)
      })
      expect(light[i]).toBeGreaterThan(1)
    })
  })

  it('fades from view to view: the sum stays within a fifth, without a dark gap', () => {
    const sums: number[] = []
    for (let angle = -20; angle <= 20; angle += 1)
      sums.push(lightAt(angle * degree).reduce((a, b) => a + b, 0))
    const inner = sums.slice(3, -3)
    const mean = inner.reduce((a, b) => a + b, 0) / inner.length
    for (const sum of inner) expect(Math.abs(sum / mean - 1)).toBeLessThan(0.2)
  })
})

/** A comet’s core: a square of 2 mm around a place, as a layer over 80 × 80 mm in steps of 0.25 mm. */
function square(xMm: number, yMm: number): Picture {
  const place = { leftMm: 0, bottomMm: 0, widthMm: 80, heightMm: 80 }
  const data = Uint16Array.from({ length: 320 * 320 }, (_, i) => {
    const x = ((i % 320) + 0.5) / 4
    const y = 80 - (Math.floor(i / 320) + 0.5) / 4
    return Math.abs(x - xMm) < 1 && Math.abs(y - yMm) < 1 ? 65535 : 0
  })
  const raster = new Raster(place, 320, 320, data)
  return { cover: raster, light: raster }
}
const frame: EffectFrame = { centerXMm: 40, centerYMm: 40, widthMm: 80, heightMm: 80 }
function views(kind: string, parameters: Record<string, unknown>, ...pictures: Picture[]): ViewField {
  const field = prepareEffect({ kind, parameters }, frame)
  const open = field.kind === 'pictures' ? field.open(pictures) : field
  if (open.kind !== 'views') throw new TypeError(`"${kind}" has no views`)
  return open
}

describe('layered depth', () => {
  it('moves a plane by its depth times the tangent of the view’s angle', () => {
    const parameters = { depthMm: 6, views: 5, planes: [{ layerId: 'b', depthMm: -4 }] }
    const field = views('layered', parameters, square(40, 30), square(40, 60))
    const out = new Float64Array(5)
    const middle = (y: number, view: number) => {
      let [sum, light] = [0, 0]
      for (let x = 20; x < 60; x += 0.05) {
        const here = field.at(x, y, out)[view]!
        sum += here
        light += here * x
      }
      return light / sum
    }
    field.design.angles.forEach((angle, i) => {
      // In front: an eye on the right sees it further left. Sampled in steps of 0.05 mm.
      expect(Math.abs(middle(30, i) - (40 - 6 * Math.tan(angle)))).toBeLessThan(0.05)
      expect(Math.abs(middle(60, i) - (40 + 4 * Math.tan(angle)))).toBeLessThan(0.05)
    })
  })

  it('lets what is in front cover what is behind', () => {
    const dark: Picture = {
      cover: square(40, 40).cover,
      light: new Raster(square(0, 0).cover.place, 1, 1, new Uint16Array(1)),
    }
    const black = { ...dark, light: new Raster(dark.cover.place, 320, 320, new Uint16Array(320 * 320)) }
    const parameters = { depthMm: 0, reading: 'light', planes: [{ layerId: 'b', depthMm: -0.5 }] }
    const field = views('layered', parameters, black, square(40, 40))
    expect(field.at(40, 40, new Float64Array(7))[3]).toBe(0)
    const swapped = { ...parameters, planes: [{ layerId: 'b', depthMm: 0.5 }] }
    expect(views('layered', swapped, black, square(40, 40)).at(40, 40, new Float64Array(7))[3]).toBe(1)
  })
})

describe('pictures in one place', () => {
  it('switch: the first view is this layer, the second the other', () => {
    const field = views('switch', { secondLayerId: 'b' }, square(20, 40), square(60, 40))
    expect([...field.at(20, 40, new Float64Array(2))]).toEqual([1, 0])
    expect([...field.at(60, 40, new Float64Array(2))]).toEqual([0, 1])
  })

  it('animation: parts of a layer show in the place of the first', () => {
    const field = views('animation', { frames: 'grid', columns: 2, rows: 2 }, square(60, 20))
    // The square lies in the lower right quarter, the fourth picture, 20 mm from its left and lower edges.
    expect([...field.at(20, 60, new Float64Array(4))]).toEqual([0, 0, 0, 1])
    expect([...field.at(60, 20, new Float64Array(4))]).toEqual([0, 0, 0, 0])
  })

  it('an object: pictures fill the layer’s place, from left to right', () => {
    const image = (value: number) => ({ width: 1, height: 1, data: Uint8Array.of(value) })
    const withViews = { ...frame, views: () => [image(255), image(51), image(0)] }
    const field = prepareEffect({ kind: 'object-views', parameters: { assetId: 'eyepiece' } }, withViews)
    if (field.kind !== 'views') throw new TypeError('expected views')
    const [a, b, c] = field.at(40, 40, new Float64Array(3))
    expect([a, b, c].map(value => Math.round(value! * 255))).toEqual([255, 51, 0])
    expect(
      prepareEffect({ kind: 'object-views', parameters: { assetId: 'gone' } }, frame).warnings,
    ).toMatchObject([{ code: 'no-pictures' }])
  })
})

describe('what cannot be', () => {
  it.each<[string, Record<string, unknown>, string]>([
    ['layered', { lampElevationDeg: 85, fanDeg: 1 }, 'the views would need pitches of'],
    ['layered', { planes: [{ layerId: 3, depthMm: 1 }] }, 'planes[0].layerId: expected a layer id'],
    [
      'layered',
      { planes: [{ layerId: 'b', depthMm: 99 }] },
      'planes[0].depthMm: expected a number -50..50 mm',
    ],
    ['layered', { views: Number.NaN }, 'views: expected a number 5..16'],
    ['animation', { frames: 'grid', columns: 5, rows: 4 }, 'expected 2..16 pictures, got 5 × 4'],
    ['animation', { layerIds: [''] }, 'layerIds[0]: expected a layer id'],
    ['lens', { finestNm: 2000, widestNm: 1000 }, 'is wider than the widest pitch'],
    ['relief', { heightMm: 99 }, 'heightMm: expected a number -50..50 mm'],
    ['object-views', { assetId: 3 }, 'assetId: expected the id of pictures'],
  ])('%s refuses %j', (kind, parameters, message) => {
    expect(() => prepareEffect({ kind, parameters }, frame)).toThrow(message)
  })

  it('warns where views run together or have one picture', () => {
    const codes = (kind: string, parameters: Record<string, unknown>) =>
      (prepareEffect({ kind, parameters }, frame).warnings ?? []).map(warning => warning.code)
    expect(codes('layered', { views: 16, fanDeg: 5 })).toContain('views-run-together')
    expect(codes('layered', { depthMm: 30 })).toEqual(['one-plane', 'depth-jumps'])
    expect(codes('switch', {})).toEqual(['one-image'])
    expect(codes('switch', { coding: 'tilt', fanDeg: 2, secondLayerId: 'b' })).toEqual([
      'views-share-colours',
    ])
  })
})

describe('lens and relief', () => {
  const sample = { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }
  const none = { lightness: 0, hue: 0, chroma: 0 }

  it('a lens of focal length f has the pitch λ f / r', () => {
    const field = prepareEffect({ kind: 'lens', parameters: { focalMm: 30, wavelengthNm: 550 } }, frame)
    if (field.kind !== 'grating') throw new TypeError('expected a grating')
    expect(field.at(55, 40, none, sample)).toMatchObject({ pitch: (550 * 30) / 15, azimuth: 0, share: 1 })
    expect(field.at(41, 40, none, sample).share).toBe(0)
    const bowl = prepareEffect({ kind: 'lens', parameters: { form: 'bowl' } }, frame)
    if (bowl.kind !== 'grating') throw new TypeError('expected a grating')
    expect(Math.abs(bowl.at(55, 40, none, sample).azimuth)).toBeCloseTo(Math.PI, 12)
  })

  it('a slope shows the lamp where a facet of it would', () => {
    // A plane that rises 8 mm over 80 mm to the right: slope 0.1. The facet’s normal is (−0.1, 0, 1).
    const place = { leftMm: 0, bottomMm: 0, widthMm: 80, heightMm: 80 }
    const ramp = new Raster(
      place,
      320,
      1,
      Uint16Array.from({ length: 320 }, (_, i) => Math.round((65535 * (i + 0.5)) / 320)),
    )
    const field = prepareEffect({ kind: 'relief', parameters: { heightMm: 8, smoothingMm: 0 } }, frame)
    if (field.kind !== 'pictures') throw new TypeError('expected pictures')
    const open = field.open([{ cover: ramp, light: ramp }])
    if (open.kind !== 'grating') throw new TypeError('expected a grating')
    const { pitch, azimuth } = open.at(40, 40, none, sample)
    // Mirror law: l + v ∥ normal, so |(l + v)_t| = 0.1 (l + v)_z = 0.1 (1 + sin 60°), and d = λ / that.
    // Heights come in steps of 1/65535; two samples apart is 410 of them, each end rounded by half a step.
    expect(Math.abs(pitch / (550 / (0.1 * (1 + Math.sin(Math.PI / 3)))) - 1)).toBeLessThan(1 / 409)
    expect(Math.abs(azimuth)).toBeCloseTo(Math.PI, 3)
  })
})
