import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { emptyMoment, GratingMean, type GratingMoment } from '../../../core/material/moments.ts'

const degree = Math.PI / 180

/** A grating of a pitch (nm) and direction (degrees), weight 1. */
function grating(pitch: number, azimuthDeg: number, more: Partial<GratingMoment> = {}): GratingMoment {
  const k = 1000 / pitch
  const angle = azimuthDeg * degree
  return { ...emptyMoment(), kx: k * Math.cos(angle), ky: k * Math.sin(angle), weight: 1, depth: 60, ...more }
}

function mean(...parts: readonly GratingMoment[]): GratingMoment {
  const all = new GratingMean()
  for (const p of parts) all.add(p.kx, p.ky, p.along, p.across, p.weight, p.depth, p.groove)
  return all.mean(emptyMoment())
}

/** The structure tensor that a moment stands for, times its weight: xx, xy, yy. */
function tensor(m: GratingMoment): readonly [number, number, number] {
  const size = m.kx * m.kx + m.ky * m.ky
  const [ux, uy] = size > 0 ? [m.kx / Math.sqrt(size), m.ky / Math.sqrt(size)] : [1, 0]
  const [a, c] = [size + m.along, m.across]
  return [
    m.weight * (a * ux * ux + c * uy * uy),
    m.weight * (a - c) * ux * uy,
    m.weight * (a * uy * uy + c * ux * ux),
  ]
}

const anyGrating = fc
  .record({
    pitch: fc.double({ min: 400, max: 5000, noNaN: true }),
    azimuth: fc.double({ min: -360, max: 360, noNaN: true }),
    along: fc.double({ min: 0, max: 0.5, noNaN: true }),
    across: fc.double({ min: 0, max: 0.5, noNaN: true }),
    weight: fc.double({ min: 0.01, max: 1, noNaN: true }),
  })
  .map(({ pitch, azimuth, ...more }) => grating(pitch, azimuth, more))

describe('the mean of gratings', () => {
  it('of equal ones is that grating, with no spread at all', () => {
    for (const azimuth of [0, 17, 90, 133.7, 181, 300]) {
      const one = grating(913, azimuth)
      const out = mean(one, one, one)
      expect(out).toMatchObject({ kx: one.kx, ky: one.ky, along: 0, across: 0, weight: 3, depth: 60 })
    }
  })

  it('does not see the sign of a vector', () => {
    const out = mean(grating(1000, 30), grating(1000, 210), grating(1000, 30))
    expect(out.kx).toBeCloseTo(Math.cos(30 * degree), 12)
    expect(out.ky).toBeCloseTo(Math.sin(30 * degree), 12)
    expect(out.along).toBeCloseTo(0, 12)
    expect(out.across).toBeCloseTo(0, 12)
  })

  it('keeps a blaze on its side', () => {
    for (const azimuth of [0, 100, 180, 200, 270, 359]) {
      const out = mean(grating(1000, azimuth - 3, { groove: 2 }), grating(1000, azimuth + 3, { groove: 2 }))
      expect(out.kx).toBeCloseTo(Math.cos(azimuth * degree) * Math.cos(3 * degree), 12)
      expect(out.ky).toBeCloseTo(Math.sin(azimuth * degree) * Math.cos(3 * degree), 12)
      expect(out.groove).toBe(2)
    }
  })

  it('of two crossed ones has no direction and spreads both ways', () => {
    // T = k²/2 · I is round: whatever axis is taken, |κ·g| has mean m and T is m² + along there, across on the other.
    const out = mean(grating(1000, 0), grating(1000, 90))
    expect(out.kx * out.kx + out.ky * out.ky + out.along).toBeCloseTo(0.5, 12)
    expect(out.across).toBeCloseTo(0.5, 12)
  })

  it('of two pitches in one direction spreads along it: mean and variance of the two numbers', () => {
    const out = mean(grating(800, 45), grating(1000, 45))
    expect(Math.hypot(out.kx, out.ky)).toBeCloseTo((1.25 + 1) / 2, 12)
    expect(out.along).toBeCloseTo(((1.25 - 1) / 2) ** 2, 12)
    expect(out.across).toBeCloseTo(0, 12)
  })

  it('of a small fan of directions spreads across it by the angle’s variance', () => {
    // Two directions ±δ: mean k cos δ, across (k sin δ)², exact.
    const out = mean(grating(1000, 90 + 5), grating(1000, 90 - 5))
    expect(out.ky).toBeCloseTo(Math.cos(5 * degree), 12)
    expect(Math.sqrt(out.across)).toBeCloseTo(Math.sin(5 * degree), 12)
    expect(out.along).toBeCloseTo(0, 12)
  })

  it('keeps the structure tensor of any mixture, and never has a negative variance', () => {
    fc.assert(
      fc.property(fc.array(anyGrating, { minLength: 1, maxLength: 9 }), parts => {
        const out = mean(...parts)
        expect(out.along).toBeGreaterThanOrEqual(0)
        expect(out.across).toBeGreaterThanOrEqual(0)
        const sum = parts.map(tensor).reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]])
        // Float64 sums of at most 9 terms below 10.
        tensor(out).forEach((v, i) => {
          expect(v).toBeCloseTo(sum[i]!, 10)
        })
      }),
    )
  })

  it('turns with the gratings', () => {
    fc.assert(
      fc.property(
        fc.array(anyGrating, { minLength: 2, maxLength: 4 }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        (parts, turn) => {
          const [c, s] = [Math.cos(turn * degree), Math.sin(turn * degree)]
          const turned = parts.map(p => ({ ...p, kx: c * p.kx - s * p.ky, ky: s * p.kx + c * p.ky }))
          const [a, b] = [mean(...parts), mean(...turned)]
          // The direction itself is loose where the tensor is nearly round, so compare what is not.
          expect(b.weight).toBeCloseTo(a.weight, 10)
          expect(b.kx ** 2 + b.ky ** 2 + b.along + b.across).toBeCloseTo(
            a.kx ** 2 + a.ky ** 2 + a.along + a.across,
            9,
          )
        },
      ),
    )
  })

  it('weighs by area and share', () => {
    const out = mean(
      grating(1000, 0, { weight: 0.75, depth: 40 }),
      grating(500, 0, { weight: 0.25, depth: 80, groove: 1 }),
    )
    expect(out.kx).toBeCloseTo(0.75 * 1 + 0.25 * 2, 12)
    expect(out).toMatchObject({ weight: 1, depth: 50, groove: 0 })
  })

  it('of nothing has no weight', () => {
    expect(mean().weight).toBe(0)
    expect(mean(grating(1000, 0, { weight: 0 })).weight).toBe(0)
  })

  it('takes more parts than it first has room for', () => {
    const parts = Array.from({ length: 100 }, (_, i) => grating(1000, i % 2 ? 10 : 190))
    const out = mean(...parts)
    expect(out.weight).toBe(100)
    expect(Math.abs(out.kx)).toBeCloseTo(Math.cos(10 * degree), 12)
  })
})
