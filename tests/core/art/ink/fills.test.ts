import { describe, expect, test } from 'vitest'
import { pathStep } from '../../../../core/art/ink/mark.ts'
import { area, at, circle, clip, fill, paintMm, path, rect, tints } from '../../../support/ink-page.ts'

const black = tints({ 3: 1 })
/** Rounding to bytes: half a level a pixel at most, and no more than that in the mean. */
const half = 0.5 / 255

function blackArea(size: number, mark: ReturnType<typeof fill>): number {
  return area(paintMm(size, size, [mark]).inks[3]!)
}

describe('areas of fills, by analytic truth', () => {
  test('a square that is turned', () => {
    for (const angle of [0.1, 0.5, 0.7853981633974483, 1.2]) {
      const [c, s] = [10 * Math.cos(angle), 10 * Math.sin(angle)]
      const turned = `m ${20 + c} ${20 + s} l ${20 - s} ${20 + c} l ${20 - c} ${20 - s} l ${20 + s} ${20 - c} z`
      // Corners 10 from the middle: 200 mm². About 60 pixels lie on its edge.
      expect(Math.abs(blackArea(40, fill(path(turned), black)) - 200)).toBeLessThan(60 * half)
    }
  })

  test('circles of many sizes', () => {
    for (const r of [0.3, 1, 7.25, 18.9]) {
      const truth = Math.PI * r * r * 1.00027
      // Pieces leave the curve by 0.01 pixels at most; pixels on the edge are rounded.
      const edge = 2 * Math.PI * r
      expect(Math.abs(blackArea(40, fill(circle(20.3, 19.6, r), black)) - truth)).toBeLessThan(
        edge * 0.01 + (edge + 8) * half,
      )
    }
  })

  test('a sliver a hundredth of a pixel wide, upright, lying and slanting', () => {
    for (const words of ['m 5 2 l 5.01 2 l 5.01 38 l 5 38 z', 'm 2 5 l 2 5.01 l 38 5.01 l 38 5 z']) {
      const { inks } = paintMm(40, 40, [fill(path(words), black)])
      // 0.01 of 255 is 2.55, kept as 3.
      expect(inks[3]!.reduce((sum, v) => sum + v, 0)).toBe(36 * 3)
    }
    const { inks } = paintMm(40, 40, [fill(path('m 2 2 l 38 38 l 38 38.2 l 2 2.2 z'), black)])
    expect(Math.abs(area(inks[3]!) - 36 * 0.2)).toBeLessThan(80 * half)
  })

  test('a triangle wider than the page, cut by it', () => {
    expect(blackArea(10, fill(path('m -1000 -1000 l 1000 -1000 l 0 3000 z'), black))).toBe(100)
    // Its left edge is the diagonal of the page.
    const triangle = fill(path('m -50 -50 l 50 50 l 500 -50 z'), black)
    expect(Math.abs(blackArea(10, triangle) - 50)).toBeLessThan(10.01 * half)
  })

  test('parts that share an edge leave no seam', () => {
    const { inks } = paintMm(12, 12, [
      fill(path('m 1 1 l 6.3 1 l 6.3 11 l 1 11 z m 6.3 1 l 11 1 l 11 11 l 6.3 11 z'), black),
    ])
    expect(area(inks[3]!)).toBe(100)
  })
})

describe('rules of insides', () => {
  const ring = 'm 2 2 l 18 2 l 18 18 l 2 18 z m 5.5 5.5 l 14.5 5.5 l 14.5 14.5 l 5.5 14.5 z'
  const counter = 'm 2 2 l 18 2 l 18 18 l 2 18 z m 5.5 5.5 l 5.5 14.5 l 14.5 14.5 l 14.5 5.5 z'

  test('a square inside a square', () => {
    expect(blackArea(20, fill(path(ring), black))).toBe(256)
    expect(blackArea(20, fill(path(ring), black, { rule: 'evenodd' }))).toBeCloseTo(256 - 81, 0)
    expect(blackArea(20, fill(path(counter), black))).toBeCloseTo(256 - 81, 0)
  })

  test('the same outline twice is no wider than once', () => {
    const once = 'm 2.3 2.4 l 9.6 3.1 l 7.7 9.2 z '
    const one = blackArea(12, fill(path(once), black))
    expect(Math.abs(blackArea(12, fill(path(once + once), black)) - one)).toBeLessThan(0.2)
    expect(blackArea(12, fill(path(once + once), black, { rule: 'evenodd' }))).toBeLessThan(0.1)
  })

  test('a five-pointed star of crossing lines has a middle by one rule and none by the other', () => {
    const points = Array.from({ length: 5 }, (_, i) => {
      const a = (i * 4 * Math.PI) / 5 + Math.PI / 2
      return `${i === 0 ? 'm' : 'l'} ${20 + 18 * Math.cos(a)} ${20 + 18 * Math.sin(a)}`
    })
    const star = path(`${points.join(' ')} z`)
    // The inner pentagon's corners lie R (3 − √5) / 2 from the middle; ten triangles between it and the points.
    const inner = (18 * (3 - Math.sqrt(5))) / 2
    const middle = 2.5 * inner ** 2 * Math.sin((2 * Math.PI) / 5)
    const whole = 5 * 18 * inner * Math.sin(Math.PI / 5)
    expect(Math.abs(blackArea(40, fill(star, black)) - whole)).toBeLessThan(1.5)
    expect(Math.abs(blackArea(40, fill(star, black, { rule: 'evenodd' })) - (whole - middle))).toBeLessThan(
      1.5,
    )
  })

  test('an open outline is closed, and a line after a close begins at its start', () => {
    expect(blackArea(10, fill(path('m 1 1 l 9 1 l 9 9 l 1 9'), black))).toBe(64)
    const after = path('m 1 1 l 4 1 l 4 4 l 1 4 z l 1 6 l 6 6 z')
    expect(blackArea(10, fill(after, black))).toBeGreaterThan(9)
  })

  test('a path with a coordinate that is no number paints nothing', () => {
    const broken = {
      steps: Uint8Array.of(pathStep.move, pathStep.line, pathStep.line),
      points: Float64Array.of(0, 0, Number.NaN, 5, 5, 5),
    }
    expect(blackArea(10, fill(broken, black))).toBe(0)
  })
})

describe('rows and bands', () => {
  const marks = [fill(circle(20, 20, 17), tints({ 0: 1 })), fill(circle(25, 12, 9.3), tints({ 4: 0.5 }))]

  test('rows that are asked for are those of the whole', () => {
    const whole = paintMm(40, 40, marks)
    const part = paintMm(40, 40, marks, { rows: [11, 29] })
    expect(part.rows).toBe(18)
    part.inks.forEach((plane, k) => {
      expect(plane).toEqual(whole.inks[k]!.subarray(11 * 40, 29 * 40))
    })
    expect(part.shape).toEqual(whole.shape.subarray(11 * 40, 29 * 40))
  })

  test('row 0 is the upper edge of the page', () => {
    const planes = paintMm(10, 10, [fill(rect(0, 8, 10, 10), black)])
    expect(at(planes, 5, 0)[3]).toBe(1)
    expect(at(planes, 5, 9)[3]).toBe(0)
  })
})

describe('clips', () => {
  const all = rect(-5, -5, 50, 50)

  test('a rectangle that lies between pixels leaves its area', () => {
    const planes = paintMm(12, 12, [fill(all, black, { clip: clip(rect(1.25, 2.5, 9.75, 10.25)) })])
    expect(Math.abs(area(planes.inks[3]!) - 8.5 * 7.75)).toBeLessThan(36 * half)
  })

  test('outlines cut each other and what lies within them', () => {
    const outer = clip(circle(20, 20, 15))
    const inner = clip(rect(20, 0, 40, 40), outer)
    const planes = paintMm(40, 40, [fill(all, black, { clip: inner })])
    expect(Math.abs(area(planes.inks[3]!) - (Math.PI * 225) / 2)).toBeLessThan(1)
    const hole = clip(
      path('m 5 5 l 35 5 l 35 35 l 5 35 z m 15 15 l 25 15 l 25 25 l 15 25 z'),
      outer,
      'evenodd',
    )
    const holed = paintMm(40, 40, [fill(all, black, { clip: hole })])
    expect(Math.abs(area(holed.inks[3]!) - (Math.PI * 225 - 100))).toBeLessThan(1)
  })

  test('edges that a fill shares with its clips are counted once', () => {
    const shape = path('m 2.3 2.4 l 9.6 3.1 l 7.7 9.2 z')
    const plain = paintMm(12, 12, [fill(shape, black)])
    const again = path('m 2.3 2.4 l 9.6 3.1 l 7.7 9.2 z')
    expect(paintMm(12, 12, [fill(shape, black, { clip: clip(again, clip(again)) })]).inks).toEqual(plain.inks)
    const square = rect(1.3, 2.6, 8.5, 9.7)
    const wider = path('m 1.3 0 l 8.5 0 l 8.5 9.7 l 1.3 11 z')
    const cut = paintMm(12, 12, [fill(wider, black, { clip: clip(square) })])
    expect(cut.inks).toEqual(paintMm(12, 12, [fill(square, black)]).inks)
  })

  test('a rectangle cuts slanting edges where they are', () => {
    // A right triangle of 10 by 10, cut to its lower left part x + y < 10, x < 5.5, y > 0.25.
    const triangle = path('m 0 0 l 10 0 l 0 10 z')
    const planes = paintMm(10, 10, [fill(triangle, black, { clip: clip(rect(0, 0.25, 5.5, 10)) })])
    expect(Math.abs(area(planes.inks[3]!) - (5.5 * (9.75 + 4.25)) / 2)).toBeLessThan(20 * half)
  })

  test('clips that do not meet leave nothing', () => {
    const apart = clip(rect(0, 0, 5, 5), clip(circle(30, 30, 5)))
    const planes = paintMm(40, 40, [fill(all, black, { clip: apart })])
    expect(area(planes.shape)).toBe(0)
  })
})

describe('what is painted is chosen', () => {
  const inLayer = (layer: number | null, ink: number) =>
    fill(rect(0, 0, 4, 4), tints({ [ink]: 1 }), { layer, overprint: true })

  test('by layer', () => {
    const marks = [inLayer(0, 0), inLayer(1, 1), inLayer(null, 2)]
    const seen = (layers: (layer: number | null) => boolean) =>
      at(paintMm(4, 4, marks, { layers }), 1, 1).slice(0, 3)
    expect(seen(layer => layer === 1)).toEqual([0, 1, 0])
    expect(seen(layer => layer === null)).toEqual([0, 0, 1])
    expect(seen(layer => layer !== null)).toEqual([1, 1, 0])
  })

  test('by mark', () => {
    const marks = [inLayer(0, 0), inLayer(1, 1)]
    expect(at(paintMm(4, 4, marks, { marks: mark => mark === marks[1] }), 1, 1).slice(0, 2)).toEqual([0, 1])
  })
})
