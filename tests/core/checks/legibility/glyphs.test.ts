import { describe, expect, test } from 'vitest'
import { distances } from '../../../../core/checks/legibility/distance.ts'
import { piecesOf } from '../../../../core/checks/legibility/letters.ts'
import { measureType } from '../../../../core/checks/legibility/measure.ts'
import { outlineGlyphs } from '../../../../core/checks/legibility/outlines.ts'
import { emptyRaster, type GlyphRaster, leastPpi, ppiFor } from '../../../../core/checks/legibility/raster.ts'
import { sampledGlyphs } from '../../../../core/checks/legibility/samples.ts'
import { addWidths, strokeWidths } from '../../../../core/checks/legibility/strokes.ts'
import { label, rectangles, sideMm } from './fixture.ts'

/** A drawing of `#` and `.` as a raster of pixels of 1 mm. */
function drawn(rows: readonly string[]): GlyphRaster {
  const width = rows[0]!.length
  const inside = Uint8Array.from(rows.join(''), cell => (cell === '#' ? 1 : 0))
  return { width, height: rows.length, pixelMm: 1, leftMm: 0, topMm: rows.length, inside }
}

/** Whatever holds, on 4 × 3 mm at 1200 ppi. */
function painted(holds: (x: number, y: number) => boolean): GlyphRaster {
  const raster = emptyRaster({ leftMm: 0, bottomMm: 0, rightMm: 4, topMm: 3 }, leastPpi)
  for (let i = 0; i < raster.inside.length; i++) {
    const x = raster.leftMm + ((i % raster.width) + 0.5) * raster.pixelMm
    const y = raster.topMm - (Math.floor(i / raster.width) + 0.5) * raster.pixelMm
    raster.inside[i] = holds(x, y) ? 1 : 0
  }
  return raster
}

function widthsOf(raster: GlyphRaster) {
  const widths: number[] = []
  addWidths(raster, widths)
  return strokeWidths(widths)!
}

describe('distances', () => {
  test('are those to the nearest pixel outside, found one by one', () => {
    const rows = ['.#######..', '.########.', '##########', '.####.####', '..########', '...####...']
    const raster = drawn(rows)
    const { width, height, inside } = raster
    const got = distances(inside, width, height)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        let least = Number.POSITIVE_INFINITY
        for (let v = -1; v <= height; v++)
          for (let u = -1; u <= width; u++) {
            const out = u < 0 || v < 0 || u >= width || v >= height || inside[v * width + u] === 0
            if (out) least = Math.min(least, Math.hypot(u - x, v - y))
          }
        expect(got[y * width + x]).toBeCloseTo(inside[y * width + x] === 0 ? 0 : least, 5)
      }
  })
})

describe('pieces', () => {
  test('are what hangs together, corners too', () => {
    const pieces = piecesOf(drawn(['##..#', '.#..#', '...#.', '#.#..', '###.#']))
    const boxes = pieces.map(one => [one.leftMm, one.bottomMm, one.rightMm, one.topMm])
    expect(boxes.sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!)).toEqual([
      [0, 0, 5, 5],
      [0, 3, 2, 5],
      [4, 0, 5, 1],
    ])
  })
})

describe('stroke widths', () => {
  const pixel = 25.4 / leastPpi
  test.each([
    ['a bar along a row', (_: number, y: number) => Math.abs(y - 1.5) < 0.1, 0.2],
    ['a bar along a column', (x: number) => Math.abs(x - 2) < 0.15, 0.3],
    ['a slanting bar', (x: number, y: number) => Math.abs(0.6 * (x - 2) - 0.8 * (y - 1.5)) < 0.125, 0.25],
    ['a ring', (x: number, y: number) => Math.abs(Math.hypot(x - 2, y - 1.5) - 1) < 0.1, 0.2],
  ] as const)('of %s, within a pixel', (_, holds, width) => {
    const { thinMm, middleMm } = widthsOf(painted(holds))
    expect(Math.abs(middleMm - width)).toBeLessThanOrEqual(pixel * 1.01)
    expect(thinMm).toBeGreaterThanOrEqual(width - 1.6 * pixel)
    expect(thinMm).toBeLessThanOrEqual(middleMm)
  })

  test('the thin stroke of a letter counts, its corners do not', () => {
    // An L: a stem of 0.4 mm and a foot of 0.1 mm.
    const { thinMm, middleMm } = widthsOf(
      painted((x, y) => (x > 1 && x < 1.4 && y > 0.5 && y < 2.5) || (x > 1 && x < 2 && y > 0.5 && y < 0.6)),
    )
    expect(Math.abs(thinMm - 0.1)).toBeLessThanOrEqual(pixel * 1.6)
    expect(Math.abs(middleMm - 0.4)).toBeLessThanOrEqual(pixel * 1.6)
  })
})

describe('glyphs of outlines', () => {
  const boxes = [
    [2, 5, 2.25, 8],
    [3, 5, 3.25, 8],
  ] as const
  const input = label([], () => ({}))
  const glyphs = outlineGlyphs(input.art, rectangles(boxes), input.map)
  const box = { leftMm: 2, bottomMm: 5, rightMm: 3.25, topMm: 8 }

  test('are drawn much finer than the map', () => {
    expect(ppiFor(glyphs.kind, box)).toBe(2400)
    const measure = measureType(glyphs, box, 'II', 0.48)!
    expect(Math.abs(measure.strokes.middleMm - 0.25)).toBeLessThanOrEqual(25.4 / 2400)
    expect(measure.size.points).toBeCloseTo(3 / (0.7 * (25.4 / 72)), 1)
  })

  test('cover the pixels of the map by area', () => {
    const pixelMm = sideMm / input.map.width
    const shares = glyphs.shares({ left: 0, top: 0, right: input.map.width, bottom: input.map.height })
    const area = shares.reduce((sum, share) => sum + share * pixelMm ** 2, 0)
    expect(area).toBeCloseTo(2 * 0.25 * 3, 4)
  })
})

test('smoothed samples keep their edge to a fraction of a sample', () => {
  // A bar of 2.4 samples: its edge samples hold the part that it covers.
  const row = [0, 0, 0.7, 1, 0.7, 0, 0]
  const data = Float32Array.from({ length: 7 * 20 }, (_, i) => row[i % 7]!)
  const size = { widthMm: 7, heightMm: 20, width: 7, height: 20 }
  const glyphs = sampledGlyphs(
    { left: 0, top: 0, width: 7, height: 20, data, acrossArt: 7, downArt: 20 },
    size,
  )
  const raster = glyphs.raster({ leftMm: 0, bottomMm: 9, rightMm: 7, topMm: 11 }, 1200)
  const across = raster.inside.slice(raster.width * 10, raster.width * 11).reduce((a, b) => a + b, 0)
  // Where an edge sample is covered by c, a straight line puts the edge (c − ½)(1 − c)/c too far out: 0.086 at most.
  expect(Math.abs(across * raster.pixelMm - 2.4)).toBeLessThanOrEqual(2 * 0.086 + raster.pixelMm)
})
