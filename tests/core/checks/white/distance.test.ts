import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { CoveragePlane } from '../../../../core/checks/white/contour.ts'
import { edgeDistance, moved } from '../../../../core/checks/white/distance.ts'

/** A pixel of 300 ppi, mm. */
const pixel = 25.4 / 300
const size = 120

/** A shape by its signed distance, mm, above 0 inside; coverage by 16 × 16 places a pixel. */
function drawn(distance: (x: number, y: number) => number): CoveragePlane {
  const data = new Uint8Array(size * size)
  const n = 16
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      const middle = distance((x + 0.5) * pixel, (y + 0.5) * pixel)
      let inside = middle > 0 ? n * n : 0
      if (Math.abs(middle) < pixel) {
        inside = 0
        for (let j = 0; j < n; j++)
          for (let i = 0; i < n; i++)
            if (distance((x + (i + 0.5) / n) * pixel, (y + (j + 0.5) / n) * pixel) > 0) inside++
      }
      data[y * size + x] = Math.round((255 * inside) / (n * n))
    }
  return { width: size, height: size, data }
}

/** Largest error inside the reach, mm. */
function worst(distance: (x: number, y: number) => number, reach: number): number {
  const found = edgeDistance(drawn(distance), pixel, reach)
  let most = 0
  // An edge that leaves the plane ends there: what its other side would be nearest to is not known.
  const rim = Math.ceil(reach / pixel) + 2
  for (let y = rim; y < size - rim; y++)
    for (let x = rim; x < size - rim; x++) {
      const true_ = distance((x + 0.5) * pixel, (y + 0.5) * pixel)
      if (Math.abs(true_) > reach - 0.02) continue
      most = Math.max(most, Math.abs(found[y * size + x]! - true_))
    }
  return most
}

const middle = (size * pixel) / 2
const disc = (radius: number) => (x: number, y: number) =>
  radius - Math.hypot(x - middle - 0.013, y - middle + 0.027)
const edge = (deg: number, offset: number) => (x: number, y: number) =>
  (x - middle) * Math.cos((deg * Math.PI) / 180) + (y - middle) * Math.sin((deg * Math.PI) / 180) + offset

describe('distance from an edge', () => {
  // Distances to a line and a circle by their equations.
  it.each([0, 17, 30, 45, 63, 90, 122])('a straight edge at %i° is met within 0.01 mm', deg => {
    for (const offset of [0, 0.017, 0.031, 0.052]) expect(worst(edge(deg, offset), 1)).toBeLessThan(0.01)
  })

  it.each([0.6, 1.5, 3.7])('a disc of %f mm is met within 0.01 mm', radius => {
    expect(worst(disc(radius), Math.min(1, radius / 2))).toBeLessThan(0.01)
  })

  it('goes no farther than its reach', () => {
    const found = edgeDistance(drawn(disc(3)), pixel, 0.5)
    expect(Math.max(...found)).toBeCloseTo(0.5, 5)
    expect(Math.min(...found)).toBeCloseTo(-0.5, 5)
  })

  it('of a plane without an edge is the reach everywhere', () => {
    const data = new Uint8Array(size * size).fill(255)
    expect(new Set(edgeDistance({ width: size, height: size, data }, pixel, 0.3))).toEqual(
      new Set([Math.fround(0.3)]),
    )
  })
})

describe('a moved edge', () => {
  const area = (data: Uint8Array) => (data.reduce((sum, one) => sum + one, 0) / 255) * pixel * pixel

  it.each([-0.3, -0.15, -0.05, 0.1, 0.5])('a disc moved by %f mm has the area of that disc', by => {
    const found = area(moved(drawn(disc(2)), pixel, by))
    // An error of 0.01 mm along the whole edge.
    expect(Math.abs(found - Math.PI * (2 + by) ** 2)).toBeLessThan(2 * Math.PI * (2 + by) * 0.01)
  })

  it('what is thinner than twice the choke is gone', () => {
    const line = (x: number, y: number) => Math.min(0.12 - Math.abs(x - middle), 2 - Math.abs(y - middle))
    expect(Math.max(...moved(drawn(line), pixel, -0.2))).toBe(0)
    expect(Math.max(...moved(drawn(line), pixel, -0.05))).toBeGreaterThan(200)
  })

  it('keeps tones inside', () => {
    const { data, ...plane } = drawn(disc(3))
    const half = { ...plane, data: data.map(one => Math.round(one * 0.7)) }
    expect(moved(half, pixel, -0.2)[(size / 2) * size + size / 2]).toBe(Math.round(255 * 0.7))
  })

  it('more choke never leaves more', () => {
    const plane = drawn(disc(2))
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.6, noNaN: true }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (a, b) => {
          const [one, other] = [moved(plane, pixel, -a - 0.001), moved(plane, pixel, -a - 0.001 - b)]
          expect(one.every((v, i) => other[i]! <= v)).toBe(true)
        },
      ),
      { seed: 4, numRuns: 20 },
    )
  })
})
