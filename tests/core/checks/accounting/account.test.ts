import { expect, test } from 'vitest'
import { areaOf } from '../../../../core/base/polygons.ts'
import type { Blank } from '../../../../core/carton/blank.ts'
import { cartonBlank } from '../../../../core/carton/carton.ts'
import type { Point } from '../../../../core/carton/die.ts'
import { holographyAccount } from '../../../../core/checks/accounting/account.ts'
import { barsOf } from '../../../../core/checks/accounting/bars.ts'
import { accountFindings } from '../../../../core/checks/accounting/check.ts'
import { boardOf, coveredOf } from '../../../../core/checks/accounting/covered.ts'
import { passingOf } from '../../../../core/checks/accounting/passing.ts'
import { pixelShares } from '../../../../core/checks/accounting/pixel-shares.ts'
import { printedClass } from '../../../../core/checks/accounting/printed-class.ts'
import { illuminantSpectrum, spectrumToXyz } from '../../../../core/color/spectrum.ts'
import type { MapPlane, MaterialMap } from '../../../../core/material/map.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { metalReflectance } from '../../../../core/optics/metal.ts'
import { plainPrinting, straightInk } from '../../../../core/optics/print.ts'
import { defaultBoard as board } from '../../../../core/optics/scene.ts'
import { tray, trayWithWindows } from '../../../support/carton.ts'

/** A map of 80 × 80 mm, its planes painted by place, mm from the lower left corner. */
type Paint = Readonly<Record<string, (x: number, y: number) => number>>
function painted(paint: Paint, { side = 320, opacity = 0.6 } = {}): MaterialMap {
  const planes = new Map<string, MapPlane>()
  const all: Paint = { metal: () => 1, ...paint }
  for (const [name, amount] of Object.entries(all)) {
    const data = new Uint8Array(side * side)
    const scale = name === 'area' ? 1 : 255
    for (let row = 0, i = 0; row < side; row++)
      for (let column = 0; column < side; column++, i++)
        data[i] = Math.round(scale * amount(((column + 0.5) / side) * 80, 80 - ((row + 0.5) / side) * 80))
    planes.set(name, { layout: 'full', components: 1, data })
  }
  return {
    width: side,
    height: side,
    pixelsPerMm: side / 80,
    widthMm: 80,
    heightMm: 80,
    planes,
    whites:
      paint.white === undefined
        ? []
        : [{ name: 'white', coverage: 'white', opacity, hits: 1, assumed: false }],
    spots: [],
    varnish: null,
    gratings: [],
    grooves: [],
    areas: [{ id: 1, name: 'all', layerId: 'all', effect: 'plain' }],
  }
}

const everywhere = () => 1
const inksOf = (...amounts: number[]) =>
  Object.fromEntries(amounts.map((amount, i) => ['CMYK'[i]!, () => amount]))
const limits = { bare: 0.8, tinted: 0.25, halfHidden: 0.05 }
const tablesOf = ({ whites }: MaterialMap) => bakeTables({ illuminant: 'D50', board, whites })
const over = (blank: Blank) => new Map(blank.panels.map(({ name }) => [name, [0, 0] as Point]))
const account = (map: MaterialMap, blank: Blank | null, corners = blank === null ? new Map() : over(blank)) =>
  holographyAccount({ map, classOf: printedClass(map, tablesOf(map), limits), blank, corners, coverGapMm: 5 })

test('shares of pixels are exact areas, windows left out', () => {
  const rings = [
    [
      [1.3, 2.7],
      [17.9, 0.4],
      [12.2, 13.6],
      [3.1, 9.05],
    ],
    [
      [6, 5],
      [7.5, 9.3],
      [10.25, 6.1],
    ],
  ] as const
  const { data, width, left, top } = pixelShares(rings)
  expect(data.reduce((sum, share) => sum + share, 0)).toBeCloseTo(areaOf(rings), 6)
  expect(Math.max(...data)).toBeLessThanOrEqual(1 + 1e-12)
  // Wholly inside the ring, and wholly inside its hole.
  expect(data[(4 - top) * width + 5 - left]).toBeCloseTo(1, 12)
  expect(data[(6 - top) * width + 8 - left]).toBeCloseTo(0, 12)
})

test('the classes of every panel sum to its area, whatever is printed and covered', () => {
  const blank: Blank = {
    ...trayWithWindows(),
    die: {
      lines: [],
      bleed: [],
      glue: [
        [
          [41, 57],
          [58, 57],
          [58, 69],
          [41, 69],
        ],
      ],
    },
  }
  const map = painted({
    area: (x, y) => (Math.hypot(x - 40, y - 40) < 36 ? 1 : 0),
    white: (x, y) => (x > 50 ? 1 : y > 60 ? 0.5 : 0),
    C: (_, y) => (y < 30 ? 1 : 0),
  })
  const { panels, wasteCm2, holographyCm2 } = account(map, blank)
  for (const { panel, areaCm2, classes } of panels) {
    const own = blank.panels.find(({ name }) => name === panel)!
    expect(areaCm2).toBeCloseTo(areaOf(boardOf(own)) / 100, 9)
    expect(Object.values(classes).reduce((sum, cm2) => sum + cm2, 0)).toBeCloseTo(areaCm2, 9)
    expect(Math.min(...Object.values(classes))).toBeGreaterThanOrEqual(0)
  }
  // Panels and waste together are all of the art's holography: pixels lose nothing at edges. 1e-5: places are held to 1e-4 mm.
  const pixels = map.planes.get('area')!.data.filter(id => id !== 0).length
  expect(holographyCm2).toBeCloseTo((pixels * (80 / 320) ** 2) / 100, 3)
  expect(wasteCm2).toBeGreaterThan(1)
  expect(panels.find(one => one.panel === 'lid')!.classes['under-glue']).toBeCloseTo(
    (17 * 12 - 6 * 7) / 100,
    3,
  )
})

test('white of full opacity and coverage leaves no holography to be seen', () => {
  const map = painted({ area: everywhere, white: everywhere }, { opacity: 1 })
  const { seenCm2, holographyCm2, panels } = account(map, null)
  expect(seenCm2).toBe(0)
  expect(panels[0]!.classes.hidden).toBeCloseTo(64, 9)
  expect(holographyCm2).toBeCloseTo(64, 9)
  expect(passingOf(map, tablesOf(map))(5, 5)).toBe(0)
})

test('classes follow the light that comes through: bare metal, half a screen of white, black', () => {
  const map = painted({
    area: everywhere,
    white: (x, y) => (y > 40 && x < 40 ? 0.6 : 0),
    K: (x, y) => (y <= 40 && x < 40 ? 1 : 0),
    C: (x, y) => (y <= 40 && x >= 40 ? 0.4 : 0),
  })
  const { classes } = account(map, null).panels[0]!
  expect(classes.bare).toBeCloseTo(16, 9)
  expect(classes.tinted).toBeCloseTo(32, 9)
  expect(classes.hidden).toBeCloseTo(16, 9)
})

test('what passes an ink twice is the sum over the spectrum that the picture has', () => {
  const map = painted(inksOf(0.5, 0.2, 1))
  const through = straightInk({ cmyk: [128 / 255, 51 / 255, 1, 0], spots: [] }, plainPrinting, 2)
  const light = illuminantSpectrum('D50').map(
    (power, i) => power * metalReflectance(380 + i, 1, board.lacquerIndex),
  )
  const sum = spectrumToXyz(light.map((power, i) => power * through[i]!))[1] / spectrumToXyz(light)[1]
  // Tables are single precision.
  expect(Math.abs(passingOf(map, tablesOf(map))(3, 3) / sum - 1)).toBeLessThan(1e-4)
})

test('a tongue that is tucked in is covered, walls are not', () => {
  const blank = cartonBlank({
    top: { kind: 'tuck', on: 'back' },
    bottom: { kind: 'tuck', on: 'front' },
    lengthMm: 60,
    widthMm: 30,
    heightMm: 90,
    measure: 'crease',
    own: {},
    code: '',
    caliperMm: 0.4,
  })
  const covered = coveredOf(blank, 5)
  for (const panel of blank.panels) {
    const share = areaOf(covered.get(panel.name)!) / areaOf(boardOf(panel))
    const name = `${panel.name}: ${share.toFixed(2)}`
    if (/glue flap|tongue|tuck/.test(panel.name) && !/lid/.test(panel.name))
      expect(share, name).toBeGreaterThan(0.8)
    if (/dust/.test(panel.name)) expect(share, name).toBeGreaterThan(0.8)
    if (['front', 'back', 'left side', 'right side'].includes(panel.name))
      expect(share, name).toBeLessThan(0.01)
  }
})

test('findings: a panel whose holography is hidden, and waste; bars tell the same', () => {
  const blank = tray()
  const map = painted({ area: everywhere, white: (x, y) => (x > 20 && x < 60 && y > 20 && y < 55 ? 1 : 0) })
  const whole = account(map, blank)
  const found = accountFindings(whole, { limits: {}, blank, corners: over(blank), map })
  expect(found.map(({ code, where }) => [code, where])).toEqual([['holography-hidden', 'front']])
  expect(found[0]!.measured).toEqual({ value: 100, unit: '%' })
  expect(found[0]!.box).toEqual({ leftMm: 20, bottomMm: 20, rightMm: 60, topMm: 55 })
  const strict = { 'accounting.waste-share': { value: 10, note: 'client' } }
  expect(
    accountFindings(whole, { limits: strict, blank, corners: over(blank), map }).map(({ code }) => code),
  ).toContain('holography-in-waste')
  const [position, ...bars] = barsOf(whole)
  expect(position!.panel).toBeNull()
  expect(position!.parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
  expect(bars.find(({ panel }) => panel === 'front')!.seen).toBe(0)
})
