import { describe, expect, test } from 'vitest'
import {
  type Area,
  aimArea,
  emptyArea,
  marginOf,
  meets,
  normalBelow,
  type Outline,
  softShare,
} from '../../../core/optics/area.ts'
import { tiles } from '../../../core/optics/seen-wide.ts'
import { lampOutline } from '../../../core/reference/light.ts'

const seenFrom = (outline: Outline, x = 0, y = 0) => aimArea(outline, x, y, emptyArea())
const pose = (elevationDeg: number, distanceMm: number, diameterMm = 1) => ({
  azimuthDeg: 20,
  elevationDeg,
  distanceMm,
  diameterMm,
})
const disc = (elevationDeg: number, distanceMm: number, diameterMm: number) =>
  lampOutline({ pose: pose(elevationDeg, distanceMm, diameterMm), form: { kind: 'disc' } })
const window = (elevationDeg: number, distanceMm: number, widthMm: number, heightMm: number, rollDeg = 0) =>
  lampOutline({
    pose: pose(elevationDeg, distanceMm),
    form: { kind: 'rectangle', widthMm, heightMm, rollDeg },
  })

/** ∫ cosθ dω over small parts of the lamp: a second way. */
function summed(area: Area, n = 22): number {
  return tiles(area, n).reduce((sum, { towards, weight }) => sum + weight * Math.max(0, towards[2]), 0)
}

describe('light of an outline', () => {
  test('a disc straight above: π R² / (R² + h²)', () => {
    // J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, B-12 on the axis; double precision.
    for (const [h, R] of [
      [100, 1],
      [300, 100],
      [50, 200],
    ] as const)
      expect(seenFrom(disc(90, h, 2 * R)).light / ((Math.PI * R * R) / (R * R + h * h))).toBeCloseTo(1, 12)
  })

  test('a square over its own corner: F = 0.13853', () => {
    // Same catalogue, B-3, element parallel to a rectangle under its corner, a/c = b/c = 1:
    // F = (1/2π) · 2 · (1/√2) atan(1/√2) = 0.138532; here in units of F π.
    const square: Outline = { round: false, middle: [50, 50, 100], across: [50, 0, 0], up: [0, 50, 0] }
    expect(Math.abs(seenFrom(square).light / Math.PI - 0.138532)).toBeLessThan(5e-7)
  })

  test('an upright rectangle from its foot', () => {
    // Same catalogue, B-4, element square to the rectangle: F = (1/2π)[atan(1/Y) − Y/√(X²+Y²) atan(1/√(X²+Y²))],
    // X = a/b, Y = c/b with a height 100, b width 100, distance c 100: 0.0557341 worked from the formula.
    const wall: Outline = { round: false, middle: [100, 50, 50], across: [0, 50, 0], up: [0, 0, 50] }
    const F = (Math.atan(1) - (1 / Math.SQRT2) * Math.atan(1 / Math.SQRT2)) / (2 * Math.PI)
    expect(seenFrom(wall).light / (F * Math.PI)).toBeCloseTo(1, 10)
  })

  test.each([
    ['a slanting disc', disc(35, 300, 200), 40, -30],
    ['a disc that the panel’s plane cuts', disc(6, 300, 200), 0, 0],
    ['a window', window(40, 1500, 1000, 1000), 50, 20],
    ['a window on the floor', window(10, 1500, 1000, 1200), 0, 0],
    ['a rolled strip', window(60, 1000, 1200, 20, 70), 30, 60],
  ] as const)('%s is the sum of its parts', (_, outline, x, y) => {
    const area = seenFrom(outline, x, y)
    // 28 657 parts; a polygon of 24 corners stands for a cut disc.
    expect(Math.abs(area.light / summed(area) - 1)).toBeLessThan(2e-3)
  })

  test('a small lamp is a point: area · cos / distance²', () => {
    // Next term of the series is of the order of the spread squared: 2e-5 for 5 mm at 300 mm.
    const { light, lightCos } = seenFrom(disc(50, 300, 2))
    const cos = Math.sin((50 * Math.PI) / 180)
    expect(light / ((Math.PI * cos) / 300 ** 2)).toBeCloseTo(1, 4)
    expect(lightCos).toBeCloseTo(cos, 4)
    expect(seenFrom(window(50, 300, 2, 1)).light / ((2 * cos) / 300 ** 2)).toBeCloseTo(1, 4)
  })

  test('a lamp below the panel gives nothing', () => {
    const area = aimArea(
      { round: true, middle: [0, 0, -100], across: [10, 0, 0], up: [0, 10, 0] },
      0,
      0,
      emptyArea(),
    )
    expect(area.light).toBe(0)
    const low: Outline = { round: false, middle: [0, 90, -60], across: [10, 0, 0], up: [0, 0, 10] }
    expect(seenFrom(low).light).toBe(0)
  })
})

test('the normal distribution is within 1.5e-4 of its table', () => {
  // Abramowitz & Stegun, table 26.1, P(x).
  for (const [x, P] of [
    [0, 0.5],
    [0.5, 0.6914624613],
    [1, 0.8413447461],
    [1.5, 0.9331927987],
    [2, 0.9772498681],
    [3, 0.998650102],
  ] as const) {
    expect(Math.abs(normalBelow(x) - P)).toBeLessThan(1.5e-4)
    expect(Math.abs(normalBelow(-x) - (1 - P))).toBeLessThan(1.5e-4)
  }
})

/** Part of a normal distribution of the tangential direction that falls on the lamp, point by point. */
function blurred(
  area: Area,
  l: readonly [number, number, number],
  xx: number,
  xy: number,
  yy: number,
): number {
  const n = 121
  const a = Math.sqrt(xx)
  const b = xy / a
  const c = Math.sqrt(yy - b * b)
  let sum = 0
  let whole = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const [s, t] = [(10 * (i + 0.5)) / n - 5, (10 * (j + 0.5)) / n - 5]
      const weight = Math.exp(-(s * s + t * t) / 2)
      whole += weight
      const x = l[0] + a * s
      const y = l[1] + b * s + c * t
      const z2 = 1 - x * x - y * y
      if (z2 > 0 && inside(area, x, y, Math.sqrt(z2))) sum += weight
    }
  return sum / whole
}

function inside(area: Area, x: number, y: number, z: number): boolean {
  const { acrossX: ax, acrossY: ay, acrossZ: az, upX: bx, upY: by, upZ: bz } = area
  const [nx, ny, nz] = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx]
  const t = (area.x * nx + area.y * ny + area.z * nz) / (x * nx + y * ny + z * nz)
  if (!(t > 0)) return false
  const [px, py, pz] = [t * x - area.x, t * y - area.y, t * z - area.z]
  const s = (px * ax + py * ay + pz * az) / (ax * ax + ay * ay + az * az)
  const r = (px * bx + py * by + pz * bz) / (bx * bx + by * by + bz * bz)
  return area.round ? s * s + r * r <= 1 : Math.abs(s) <= 1 && Math.abs(r) <= 1
}

describe('a blurred outline', () => {
  const cases: readonly (readonly [string, Outline, number])[] = [
    ['a sharp disc', disc(60, 400, 120), 0.01],
    ['a disc as wide as its blur', disc(60, 400, 20), 0.025],
    ['a disc in a wide blur', disc(60, 400, 20), 0.06],
    ['a window', window(50, 1500, 1000, 800, 15), 0.02],
    ['a strip', window(60, 1000, 1200, 20, 30), 0.012],
  ]
  test.each(cases)('%s, against the sum over the blur', (_, outline, blur) => {
    const area = seenFrom(outline, 20, -10)
    const { towardX, towardY } = area
    let worst = 0
    for (let k = -4; k <= 4; k++)
      for (let j = -2; j <= 2; j++) {
        const x = towardX + k * blur * 0.8
        const y = towardY + j * blur
        const z = Math.sqrt(1 - x * x - y * y)
        const [xx, xy, yy] = [blur * blur, 0.3 * blur * blur, 0.6 * blur * blur]
        const found = softShare(area, x, y, z, xx, xy, yy)
        worst = Math.max(worst, Math.abs(found - blurred(area, [x, y, z], xx, xy, yy)))
      }
    // What the docstring says, and half a step of the sum's own grid, 0.04 deviations.
    expect(worst).toBeLessThan(0.04)
  })

  test('outside the span there is nothing, inside there is', () => {
    const span = new Float64Array(2)
    const σ = 0.008
    for (const [, outline] of cases) {
      const area = seenFrom(outline, 10, 25)
      for (const turn of [0.2, 1.4, 2.9])
        for (const w of [-0.3, -0.1, 0.05, 0.2]) {
          const [gx, gy] = [Math.cos(turn), Math.sin(turn)]
          const found = meets(area, gx, gy, w, marginOf(area, σ), span)
          for (let u = -0.95; u < 0.95; u += 0.01) {
            const z2 = 1 - u * u - w * w
            if (z2 <= 0.15) continue
            const seen = softShare(area, u * gx - w * gy, u * gy + w * gx, Math.sqrt(z2), σ * σ, 0, σ * σ)
            // A wide lamp's light is some hundred times paper white at most: 1e-4 of it cannot be seen.
            if (!found || u < span[0]! || u > span[1]!) expect(seen).toBeLessThan(1e-4)
          }
        }
    }
  })
})
