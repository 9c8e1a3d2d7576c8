import { describe, expect, it } from 'vitest'
import { flareLines, flareOf } from '../../../../core/checks/codes/flare.ts'
import { readerTables } from '../../../../core/checks/codes/light.ts'
import { whitePatch } from '../../../../core/checks/codes/patch.ts'
import { nearLines } from '../../../../core/checks/codes/place.ts'
import { dotAt } from '../../../../core/checks/codes/screen.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import { boxBlank } from '../../../support/code-blank.ts'
import { paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }))

describe('flare into a reader', () => {
  it('comes from the lines that the grating equation names', () => {
    // sin 45° / 660 nm and half of it; two decimals as printed.
    expect(flareLines(1)).toBeCloseTo(1071.37, 2)
    expect(flareLines(2)).toBeCloseTo(535.69, 2)
  })

  const core = { leftMm: 15, rightMm: 25, bottomMm: 15, topMm: 25 }
  const mapOf = (lines: number, covered: number, beside = false) =>
    paintMap(
      {
        size: 80,
        sideMm: 40,
        gratings: 1,
        whites: [{ opacity: 0.8, hits: 1 }],
        spots: [],
        varnish: false,
      },
      x => ({
        whites: [covered],
        gratings:
          beside && 20 * (x + 1) < 26
            ? []
            : [
                {
                  pitch: 1e6 / lines,
                  azimuth: 0,
                  grooveDepth: 80,
                  groove: sinusoid,
                  share: 1,
                  spreadAlong: 0,
                  spreadAcross: 0,
                },
              ],
      }),
    )
  const found = (lines: number, covered = 0, beside = false) => {
    const map = mapOf(lines, covered, beside)
    return flareOf(map, tables, core, 5, (5 * Math.PI) / 180)
  }
  const tables = readerTables(scene, mapOf(1071, 0))

  it.each([
    [1071, 1],
    [536, 2],
    [1071 * 1.1, 1],
  ])('%f lines/mm can', (lines, order) => {
    expect(found(lines)).toMatchObject({ order, under: true })
  })

  it.each([700, 1500])('%f lines/mm cannot', lines => {
    expect(found(lines)).toBeNull()
  })

  it('is stopped by white, and comes from beside as well', () => {
    expect(found(1071, 1)).toBeNull()
    expect(found(1071, 0, true)).toMatchObject({ order: 1, under: false })
  })
})

describe('the white under a code', () => {
  const core = { leftMm: 12, rightMm: 28, bottomMm: 15, topMm: 25 }
  const patchTo = (beyond: number, metal = 1) => {
    const map = paintMap(
      { size: 800, sideMm: 40, gratings: 0, whites: [{ opacity: 0.7, hits: 1 }], spots: [], varnish: false },
      (x, y) => {
        const [xMm, yMm] = [20 * (x + 1), 20 * (y + 1)]
        const out = Math.max(12 - xMm, xMm - 28, 15 - yMm, yMm - 25)
        return { metal, whites: [out < beyond ? 1 : 0] }
      },
    )
    return whitePatch(map, tables, core, 2)
  }
  const tables = readerTables(
    scene,
    paintMap(
      { size: 2, sideMm: 40, gratings: 0, whites: [{ opacity: 0.7, hits: 1 }], spots: [], varnish: false },
      () => ({}),
    ),
  )

  it.each([0.5, 1, 1.5])('reaches as far as it was painted, %f mm', beyond => {
    const patch = patchTo(beyond)
    // Half a pixel of 0.05 mm.
    expect(Math.abs(patch.marginMm - beyond)).toBeLessThanOrEqual(0.03)
    expect(patch).toMatchObject({ onMetal: true, without: 0, opacity: 0.7 })
  })

  it('that ends inside has a margin below 0, and bare board needs none', () => {
    const inside = patchTo(-1)
    expect(inside.marginMm).toBeLessThan(-0.9)
    expect(inside.without).toBeCloseTo(1 - (14 * 8) / (16 * 10), 1)
    expect(patchTo(-1, 0)).toMatchObject({ onMetal: false, without: 0, marginMm: 2 })
  })
})

describe('folds near a code', () => {
  const square = (left: number, bottom: number, side: number) =>
    [
      [left, bottom],
      [left + side, bottom],
      [left + side, bottom + side],
      [left, bottom + side],
    ] as const

  it('are measured from the symbol to crease and cut', () => {
    const near = nearLines(boxBlank, new Map([['front', [0, 0]]]), square(20, 30, 15))
    // The front is 50 wide; its crease to the side is at x = 50, its cuts at y = 0 and 80 and x = 0.
    expect(near.find(one => one.what.includes('crease'))!.mm).toBeCloseTo(15, 9)
    expect(near.find(one => one.what === 'a glued area')!.mm).toBeCloseTo(17, 9)
    expect(near.filter(one => one.what.includes('edge')).map(one => one.mm)).toEqual([20, 30, 35])
  })

  it('a code across a crease meets it, and one on a glued flap is told of', () => {
    expect(nearLines(boxBlank, new Map([['front', [0, 0]]]), square(45, 30, 8))[0]!.mm).toBe(0)
    const glued = nearLines(boxBlank, new Map([['glue flap', [0, 0]]]), square(54, 30, 5))
    expect(glued[0]!.what).toContain('glued flap')
  })
})

describe('dots of a screen', () => {
  it.each([0.05, 0.3, 0.5, 0.8, 0.95])('cover what they should: %f', coverage => {
    let hit = 0
    const side = 300
    for (let j = 0; j < side; j++)
      for (let i = 0; i < side; i++) if (dotAt((i + 0.5) / 30.7, (j + 0.5) / 30.7, coverage)) hit++
    // Ten cells across, cut by the edge of the square.
    expect(Math.abs(hit / side ** 2 - coverage)).toBeLessThan(0.02)
  })
})
