import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Box, OutlinePath } from '../../../core/art/layer.ts'
import { gaussianBlur } from '../../../core/art/raster-blur.ts'
import { fillCoverage } from '../../../core/art/raster-fill.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'

/** 25.4 ppi: one pixel is one millimetre. */
const ppi = 25.4
const page: Box = { left: 0, top: 0, right: 40, bottom: 40 }

function polygon(
  points: readonly (readonly [number, number])[],
  how: Partial<OutlinePath> = {},
): OutlinePath {
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: points.map(at => ({ in: at, at, out: at })),
    ...how,
  }
}

const square = (x: number, y: number, size: number, how: Partial<OutlinePath> = {}): OutlinePath =>
  polygon(
    [
      [x, y],
      [x + size, y],
      [x + size, y + size],
      [x, y + size],
    ],
    how,
  )

function area(paths: readonly OutlinePath[], startsFull = false): number {
  return fillCoverage({ paths, startsFull }, page, ppi, 40).reduce((a, b) => a + b, 0)
}

/** Circle from four cubics; the usual handle is 4/3·tan(π/8) of the radius. */
function circle(x: number, y: number, r: number): OutlinePath {
  const h = (4 / 3) * Math.tan(Math.PI / 8) * r
  const knot = (dx: number, dy: number) => ({
    in: [x + dx * r + dy * h, y + dy * r - dx * h] as const,
    at: [x + dx * r, y + dy * r] as const,
    out: [x + dx * r - dy * h, y + dy * r + dx * h] as const,
  })
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: [knot(1, 0), knot(0, 1), knot(-1, 0), knot(0, -1)],
  }
}

describe('coverage of outlines', () => {
  it('is the geometric area', () => {
    // Edges on sixteenths of a pixel fall on scan lines, so the sum is exact to float32.
    expect(area([square(3.25, 5.5, 10.125)])).toBeCloseTo(10.125 ** 2, 3)
    expect(
      area([
        polygon([
          [2, 2],
          [32, 2],
          [2, 22],
        ]),
      ]),
    ).toBeCloseTo(300, 3)
    // The cubic circle is larger than πr² by 2.7e-4 of r at most, hence by less than 6e-4 of its area.
    expect(Math.abs(area([circle(20, 20, 15)]) / (Math.PI * 225) - 1)).toBeLessThan(6e-4)
  })

  it('combines shapes as sets', () => {
    const a = square(4, 4, 16)
    const b = (combine: OutlinePath['combine']) => square(12, 12, 16, { combine })
    expect(area([a, b('unite')])).toBeCloseTo(256 + 256 - 64, 3)
    expect(area([a, b('subtract')])).toBeCloseTo(256 - 64, 3)
    expect(area([a, b('intersect')])).toBeCloseTo(64, 3)
    expect(area([a, b('exclude')])).toBeCloseTo(256 + 256 - 128, 3)
    expect(area([square(4, 4, 16, { combine: 'subtract' })], true)).toBeCloseTo(1600 - 256, 3)
  })

  it('leaves no seam where two shapes share an edge inside a pixel', () => {
    const left = square(4.3, 4, 10)
    const right = square(14.3, 4, 10)
    const cover = fillCoverage({ paths: [left, right], startsFull: false }, page, ppi, 40)
    expect(cover[(39 - 8) * 40 + 14]).toBeCloseTo(1, 6)
  })

  it('fills an outline that continues a shape by the even-odd rule', () => {
    expect(area([square(4, 4, 20), square(8, 8, 6, { continues: true })])).toBeCloseTo(400 - 36, 3)
  })

  it('is the same in parts as in one piece', () => {
    const paths = [circle(20, 20, 15)]
    const whole = fillCoverage({ paths, startsFull: false }, page, ppi, 40)
    const part = fillCoverage(
      { paths, startsFull: false },
      { left: 7, top: 11, right: 31, bottom: 17 },
      ppi,
      40,
    )
    for (let y = 0; y < 6; y++)
      for (let x = 0; x < 24; x++) expect(part[y * 24 + x]).toBeCloseTo(whole[(y + 11) * 40 + x + 7]!, 5)
  })

  // oov/psd testdata/mask.psd (MIT): the program that made the file left its own picture of each vector mask.
  it('agrees with the raster that another program made of the same outlines', async () => {
    const name = 'psd__testdata_mask.psd'
    const file = await readArt(memorySource(name, readFileSync(`tests/fixtures/art/${name}`)))
    const layer = file.art.layers.find(l => l.name === 'vectorMask')!
    const theirs = (await file.vectorMaskPlane(layer.id))!
    const ours = fillCoverage(layer.vectorMask!, theirs.box, file.art.resolutionPpi!, file.art.height)
    const inside = theirs.data.filter(v => v > 0).length
    const mean = ours.reduce((sum, v, i) => sum + Math.abs(v - theirs.data[i]! / 255), 0) / inside
    expect(inside).toBeGreaterThan(400)
    // Edge pixels differ by how finely each program samples them: under 1 % on average over the mask.
    expect(mean).toBeLessThan(0.01)
  })
})

describe('blur', () => {
  it('keeps the sum and has the variance of its Gaussian', () => {
    const size = 61
    const dot = new Float32Array(size * size)
    dot[30 * size + 30] = 1
    const out = gaussianBlur(dot, size, size, 4)
    let sum = 0
    let variance = 0
    out.forEach((v, i) => {
      sum += v
      variance += v * ((i % size) - 30) ** 2
    })
    expect(sum).toBeCloseTo(1, 5)
    // Cutting at 3.5 sigma takes 0.6 % off the variance (integral of x² beyond it); sampling adds nothing at this size.
    expect(Math.abs(variance - 16)).toBeLessThan(0.2)
  })
})
