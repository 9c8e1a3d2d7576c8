import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import { chromaticity, type XYZ } from '../../../core/color/xyz.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import type { Grating } from '../../../core/optics/matter.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { cameraRays, frameCamera, panelPoint } from '../../../core/reference/camera.ts'
import { displayPicture, surroundCode } from '../../../core/reference/display-picture.ts'
import { footprintLevel } from '../../../core/reference/level.ts'
import { lightOf } from '../../../core/reference/light.ts'
import { stand } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { type Scene, withHandLamp } from '../../../core/reference/scene.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

const groove: Grating = {
  pitch: 1000,
  azimuth: 0,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}
const plan: PaintPlan = { size: 64, sideMm: 80, gratings: 1, whites: [], spots: [], varnish: false }
const straight = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
const scene = sceneFor(oneLamp({ azimuthDeg: 0, elevationDeg: 60, distanceMm: 400, diameterMm: 20 }, 0))
const lit = (change: Partial<Scene['light']>): Scene => ({ ...scene, light: { ...scene.light, ...change } })
const held = (pose: Scene['view']['pose'], s = scene): Scene => ({ ...s, view: { ...s.view, pose } })

/** A square picture with all its light. */
function picture(s: Scene, paint: (x: number, y: number) => PaintStack, p = plan, size = 64, grid = 1) {
  const map = paintMap(p, paint)
  const tables = bakingsOf(s, map).map(bakeTables)
  const whole = { top: 0, bottom: size }
  return renderTile(s, pyramid(map), tables, { width: size, height: size, grid }, whole)
}

/** X, Y, Z of the pixel at part (u, v) of the picture, from the upper left. */
const at = (light: Float32Array, u: number, v: number): XYZ => {
  const size = Math.sqrt(light.length / 4)
  const i = 4 * (Math.floor(v * size) * size + Math.floor(u * size))
  return [light[i]!, light[i + 1]!, light[i + 2]!]
}

const rings = (x: number, y: number): PaintStack => ({
  gratings: [{ ...groove, azimuth: Math.atan2(y, x) }],
})

describe('the reference picture', () => {
  test('turning lamp and panel together turns the picture', () => {
    // With 60 pixels no pixel's middle falls on the border of two texels, where rounding would decide.
    const n = 60
    const before = picture(scene, rings, plan, n)
    const turned = held(
      { ...straight, turnDeg: 90 },
      lit(withHandLamp(scene.light, { ...scene.light.lamps[0].pose, azimuthDeg: 90 })),
    )
    const after = picture(turned, rings, plan, n)
    // A quarter turn counter-clockwise takes column x, row y to column y, row n − 1 − x. Cosines of 90° leave 1e-16.
    let largest = 0
    for (let y = 0; y < n; y++)
      for (let x = 0; x < n; x++)
        for (let c = 0; c < 4; c++) {
          const a = before[4 * (n * y + x) + c]!
          const b = after[4 * (n * (n - 1 - x) + y) + c]!
          largest = Math.max(largest, Math.abs(a - b) / (1 + a))
        }
    expect(largest).toBeLessThan(1e-6)
  })

  test('tiles of any height make the same picture', () => {
    const map = paintMap(plan, rings)
    const tables = bakingsOf(scene, map).map(bakeTables)
    const levels = pyramid(map)
    const size = { width: 40, height: 50, grid: 2 }
    const whole = renderTile(scene, levels, tables, size, { top: 0, bottom: 50 })
    const parts = [0, 7, 8, 31].map((top, i, tops) =>
      renderTile(scene, levels, tables, size, { top, bottom: tops[i + 1] ?? 50 }),
    )
    expect(Float32Array.from(parts.flatMap(part => [...part]))).toEqual(whole)
  })

  test('a pixel is what the slow truth says of the place it sees', () => {
    const lamp = { ...scene.light.lamps[0].pose, azimuthDeg: 12 }
    const s = lit(withHandLamp(scene.light, lamp))
    const light = picture(s, () => ({ gratings: [groove], cmyk: [0.2, 0, 0.6, 0] }))
    const standing = stand(lamp, straight, 400)
    const rays = cameraRays(frameCamera({ widthMm: 80, heightMm: 80 }, 400, 1), standing, 64, 64)
    const { eyeSigma } = lightOf(s, standing)
    const lampSigma = lamp.diameterMm / 4
    let compared = 0
    for (const [column, row] of [
      [10, 17],
      [22, 16],
      [33, 19],
      [44, 17],
      [52, 14],
      [45, 50],
    ] as const) {
      const [x, y] = panelPoint(rays, column + 0.5, row + 0.5)!
      const to = (p: readonly [number, number, number]) => {
        const d = Math.hypot(p[0] - x, p[1] - y, p[2])
        return { direction: [(p[0] - x) / d, (p[1] - y) / d, p[2] / d] as const, d }
      }
      const l = to(standing.lamp)
      const e = to(standing.eye)
      const cyan = Math.round(0.2 * 255) / 255
      const yellow = Math.round(0.6 * 255) / 255
      const truth = underLamp(
        seen(
          {
            metal: 1,
            gratings: [groove],
            whites: [],
            cmyk: [cyan, 0, yellow, 0],
            spots: [],
            varnish: 0,
          },
          {
            lamp: l.direction,
            eye: e.direction,
            lampSpread: lampSigma / l.d,
            eyeSpread: eyeSigma / e.d,
          },
          'D65',
          defaultBoard,
        ),
      )
      const irradiance = (l.direction[2] / l.d ** 2) * (400 ** 2 / Math.sin(Math.PI / 3))
      const scale = irradiance / Math.max(1, 2 * truth[1] * irradiance)
      const fast = at(light, (column + 0.5) / 64, (row + 0.5) / 64)
      const white = illuminantWhite('D65')
      const a = xyzToLab([truth[0] * scale, truth[1] * scale, truth[2] * scale], white)
      const k = scale / irradiance
      const b = xyzToLab([fast[0] * k, fast[1] * k, fast[2] * k], white)
      // Twelve samples a band against 1 nm: below 2 for small lamps under D65 by the study the number was chosen from.
      expect(deltaE2000(a, b)).toBeLessThan(2)
      if (truth[1] > 0.5) compared++
    }
    // Some of the places are lit by an order, or the comparison would be of black with black.
    expect(compared).toBeGreaterThanOrEqual(2)
  })

  test('a place shows the wavelength of the grating equation', () => {
    // Lamp as small as the sun and a calm board: nearly one wavelength a place. CIE 1931 spectral locus, 2°:
    // CIE 015:2018, table 6 (xy of 520 and 600 nm).
    const locus = new Map([
      [520, [0.0743, 0.8338]],
      [600, [0.62704, 0.37249]],
    ])
    const small = lit(withHandLamp(scene.light, { ...scene.light.lamps[0].pose, diameterMm: 2 }))
    const s: Scene = {
      ...small,
      board: { ...scene.board, wavinessMrad: 0.2, cellUm: [500, 500] },
    }
    for (const [λ, xy] of locus) {
      // In the middle of the panel u = cos 60° = ½ and w = 0, so the pitch is 2 λ.
      const light = picture(s, () => ({ gratings: [{ ...groove, pitch: 2 * λ }] }), plan, 63)
      const [x, y] = chromaticity(at(light, 0.5, 0.5))
      // The band is still some 8 nm wide, which pulls the point inward by about a hundredth.
      expect(Math.hypot(x - xy[0]!, y - xy[1]!)).toBeLessThan(0.02)
    }
  })

  test('holography lights up, ink darkens it, white masks it', () => {
    const paper = { ...plan, whites: [{ opacity: 1, hits: 1 }] }
    const grating = { ...groove, pitch: 1100 }
    const painted =
      (holography: readonly Grating[]) =>
      (x: number, y: number): PaintStack => ({
        gratings: x < 0 ? holography : [],
        cmyk: y < -0.3 ? [0, 0, 0, 0.8] : [0, 0, 0, 0],
        whites: [y > 0.3 ? 1 : 0],
      })
    const light = picture(scene, painted([grating]), paper)
    const without = picture(scene, painted([]), paper)
    const bare = at(light, 0.35, 0.5)[1]
    expect(bare).toBeGreaterThan(20)
    expect(at(light, 0.65, 0.5)[1]).toBeLessThan(0.05)
    expect(at(light, 0.35, 0.8)[1]).toBeLessThan(bare / 3)
    // White of 100 % opacity hides all holography: the same as without any.
    for (const [u, v] of [
      [0.1, 0.1],
      [0.35, 0.2],
      [0.45, 0.3],
    ] as const)
      expect(at(light, u, v)).toEqual(at(without, u, v))
    expect(at(light, 0.35, 0.2)[1]).toBeGreaterThan(0.7)
  })

  test('a uniform grating looks the same from afar', () => {
    const uniform = (): PaintStack => ({ gratings: [{ ...groove, pitch: 1100 }] })
    const near = picture(scene, uniform, { ...plan, size: 512 }, 65)
    const far = picture(scene, uniform, { ...plan, size: 65 }, 65)
    // The far map's texels are read as they are, the near one's from its third level: the spread must still be zero.
    // κ is stored in steps of 8e-5 cycles/µm, 0.1 nm of a wavelength; bands here are some 20 nm wide.
    const a = at(near, 0.5, 0.5)
    const b = at(far, 0.5, 0.5)
    expect(a[1]).toBeGreaterThan(20)
    for (let c = 0; c < 3; c++) expect(Math.abs(a[c]! - b[c]!)).toBeLessThan(0.005 * b[c]! + 1e-3)
  })

  test('the mean over a fine grid is the mean of a finer picture', () => {
    const coarse = picture(scene, rings, plan, 16, 4)
    const fine = picture(scene, rings, plan, 64, 1)
    let sumCoarse = 0
    let sumFine = 0
    for (let i = 1; i < coarse.length; i += 4) sumCoarse += coarse[i]! * coarse[i + 2]! * 16
    for (let i = 1; i < fine.length; i += 4) sumFine += fine[i]! * fine[i + 2]!
    // The same rays; float32 sums of a few thousand terms.
    expect(sumCoarse / sumFine).toBeCloseTo(1, 4)
  })

  test('beside the panel there is nothing, and the back shows nothing', () => {
    const light = picture(scene, rings)
    expect([...light.subarray(0, 4)]).toEqual([0, 0, 0, 0])
    const back = picture(held({ ...straight, tiltSideDeg: 150 }), rings)
    expect(back.every(v => v === 0)).toBe(true)
  })
})

describe('the level of the map', () => {
  test('is where a pixel covers one texel, by powers of two', () => {
    const standing = stand(scene.light.lamps[0].pose, straight, 400)
    const panel = { widthMm: 80, heightMm: 80 }
    const rays = cameraRays(frameCamera(panel, 400, 1), standing, 112, 112)
    // The picture shows 80 · 1.12 mm over 112 pixels: 0.8 mm a pixel.
    const level = (pixelsPerMm: number) => footprintLevel(rays, 400, 0, 0, pixelsPerMm, 6)
    expect(level(1 / 0.8)).toBe(0)
    expect(level(2 / 0.8)).toBe(1)
    expect(level(2.9 / 0.8)).toBe(2)
    expect(level(2.7 / 0.8)).toBe(1)
    expect(level(1000)).toBe(5)
    expect(level(0.01)).toBe(0)
  })
})

describe('screen values', () => {
  test('paper white under any lamp is neutral, at 0.8 of the screen’s light', () => {
    for (const illuminant of ['A', 'D50', 'D65'] as const) {
      const white = illuminantWhite(illuminant)
      const under = { ...scene, light: oneLamp(scene.light.lamps[0].pose, 0, illuminant) }
      const codes = displayPicture(Float32Array.of(...white, 1), under, 16)
      // IEC 61966-2-1: 1.055 · 0.8^(1/2.4) − 0.055 = 0.90633. One 16-bit step, and the 5 digits of the white point.
      for (const code of codes) expect(Math.abs(code / 65535 - 0.90633)).toBeLessThan(5e-5)
    }
  })

  test('half a pixel of panel is half panel, half surround', () => {
    const white = illuminantWhite('D65')
    const [whole] = displayPicture(Float32Array.of(...white, 1), scene, 16)
    const [half] = displayPicture(Float32Array.of(...white, 0.5), scene, 16)
    const [none] = displayPicture(Float32Array.of(0, 0, 0, 0), scene, 16)
    expect(none).toBe(Math.round(surroundCode * 65535))
    expect(Math.abs(half! - (whole! + none!) / 2)).toBeLessThanOrEqual(1)
  })
})
