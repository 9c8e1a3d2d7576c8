import { beforeAll, describe, expect, it } from 'vitest'
import { expectedBars, quietModules } from '../../../../core/checks/codes/bars.ts'
import { decodability } from '../../../../core/checks/codes/decodability.ts'
import { type DrawnSymbol, drawnSymbol } from '../../../../core/checks/codes/drawn-symbol.ts'
import { judgeBars } from '../../../../core/checks/codes/judge.ts'
import { ReaderLight, readerTables } from '../../../../core/checks/codes/light.ts'
import { retailModules } from '../../../../core/checks/codes/retail.ts'
import { apertureName, aperturePart } from '../../../../core/checks/codes/scan.ts'
import { ReaderSurface } from '../../../../core/checks/codes/surface.ts'
import type { InkTile } from '../../../../core/checks/codes/tile.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import type { Tables } from '../../../../core/optics/tables.ts'
import { blackOnNothing, codeTile, generatedRuns, type TileInks } from '../../../support/code-tile.ts'
import { paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }))
const example = '9521234567899'
/** Measured opacities of the whites of the test map, and the opaque one that is screened. */
const opacities = [0.3, 0.45, 0.6, 0.8] as const
/** Each test has a map of its own, but all have the same plates, so that the tables are made once. */
const plates = [
  ...opacities.slice(0, 2).map(opacity => ({ opacity, hits: 1 })),
  { opacity: opacities[2], hits: 1, mottle: 0.1 },
  { opacity: 0.98, hits: 1 },
]
const even = { opacity: opacities[2], hits: 1 }

const mapOf = (metal: number, whites: readonly number[], own = plates): MaterialMap =>
  paintMap({ size: 200, sideMm: 50, gratings: 0, whites: own, spots: [], varnish: false }, () => ({
    metal,
    whites,
  }))

let tile: InkTile
let symbol: DrawnSymbol
beforeAll(() => {
  const made = codeTile('EAN-13', example, { moduleMm: 0.3, leftMm: 8, heightMm: 6 })
  tile = made.tile
  symbol = drawnSymbol(made.tile, made.symbol)!
})

const lines = [0.18, 0.42, 0.58, 0.82]
const judge = (map: MaterialMap, tables: Tables, of = tile, drawn = symbol) =>
  judgeBars(new ReaderSurface(map, of, new ReaderLight(tables, 'along', Math.PI / 2), 7), drawn, lines)
const least = (judged: ReturnType<typeof judgeBars>) =>
  Math.min(...judged.scans.map(scan => scan.symbolContrast))

describe('a code drawn by the generator', () => {
  it('has the bars of our tables', () => {
    const modules = retailModules('EAN-13', example)
    const drawn = generatedRuns('EAN-13', example)
      .map((run, i) => (i % 2 === 0 ? '1' : '0').repeat(run))
      .join('')
    expect(drawn).toBe(modules)
  })

  it('is measured where it was drawn', () => {
    expect(symbol.moduleMm).toBeCloseTo(0.3, 3)
    expect(symbol.frame.start[0]).toBeCloseTo(8, 2)
    // Clear ground is looked for 15 modules far.
    expect(symbol.clearMm[0]).toBeCloseTo(4.5, 2)
  })

  it.each([
    ['Code 128', 'HOS-52-A'],
    ['ITF', '19521234567896'],
  ] as const)('%s is read off the drawing as the generator made it', (kind, text) => {
    const made = codeTile(kind, text, { moduleMm: 0.4, leftMm: 8 })
    const drawn = drawnSymbol(made.tile, made.symbol)!
    const runs = generatedRuns(kind, text)
    expect(drawn.moduleMm).toBeCloseTo(0.4, 3)
    drawn.bars.runs.forEach((run, i) => {
      expect(run).toBeCloseTo(runs[i]!, 1)
    })
  })

  it('is no symbol of a kind that it is not', () => {
    const made = codeTile('EAN-13', example, { moduleMm: 0.33 })
    expect(drawnSymbol(made.tile, { ...made.symbol, kind: 'Code 128' })).toBeNull()
  })
})

describe('grades over board, foil and white', () => {
  let tables: Tables
  beforeAll(() => {
    tables = readerTables(scene, mapOf(0, [0, 0, 0, 0]))
  })

  it('white board is a 4 throughout, and bare foil fails', () => {
    const board = judge(mapOf(0, [0, 0, 0, 0]), tables)
    expect(board.scans.every(({ grades }) => grades.symbolContrast === 4)).toBe(true)
    expect(board.grade).toBe(4)
    expect(board.decoded).toBe(1)
    expect(board.report).toBe(`4.0/${apertureName(aperturePart * 0.3)}/660`)
    const foil = judge(mapOf(1, [0, 0, 0, 0]), tables)
    expect(foil.grade).toBe(0)
    expect(foil.decoded).toBe(0)
  })

  it('whites of rising measured opacity lie between, each better than the last', () => {
    const board = least(judge(mapOf(0, [0, 0, 0, 0]), tables))
    const contrasts = opacities.map(opacity => {
      const own = [{ opacity, hits: 1 }]
      const map = mapOf(1, [1], own)
      return least(judge(map, readerTables(scene, map)))
    })
    contrasts.forEach((contrast, i) => {
      expect(contrast).toBeGreaterThan(i === 0 ? 0.1 : contrasts[i - 1]! + 0.05)
      expect(contrast).toBeLessThan(board)
      // A code may count on no more than the white's own share of a perfect one.
      expect(contrast).toBeLessThan(opacities[i]! + 0.01)
    })
  })

  it('screens of an opaque white lie between bare foil and its solid, grain and all', () => {
    const screened = [0.3, 0.45, 0.6, 0.8, 1].map(cover => judge(mapOf(1, [0, 0, 0, cover]), tables))
    const whole = screened.at(-1)!
    expect(whole.grade).toBe(4)
    screened.slice(1).forEach((judged, i) => {
      expect(least(judged)).toBeGreaterThan(least(screened[i]!))
      expect(judged.grade).toBeGreaterThanOrEqual(screened[i]!.grade)
    })
    // Dots and gaps are as wide as the aperture is half: what the contrast would pass, the defects do not.
    const at60 = screened[2]!
    expect(Math.max(...at60.scans.map(({ defects }) => defects))).toBeGreaterThan(0.2)
    expect(at60.grade).toBeLessThan(2)
  })

  it('mottle lowers what an even white of the same opacity has', () => {
    const mottled = judge(mapOf(1, [0, 0, 1, 0]), tables)
    const map = mapOf(1, [1], [even])
    const smooth = judge(map, readerTables(scene, map))
    const modulation = (judged: typeof smooth) => Math.min(...judged.scans.map(scan => scan.modulation))
    const defects = (judged: typeof smooth) => Math.max(...judged.scans.map(scan => scan.defects))
    expect(modulation(mottled)).toBeLessThan(modulation(smooth) - 0.02)
    expect(defects(mottled)).toBeGreaterThan(defects(smooth) + 0.02)
  })

  // Red, orange and yellow bars vanish in red light, cyan and black work: code bodies' guidance, two secondary pages.
  it.each([
    ['black', [0, 0, 0, 1], true],
    ['cyan', [1, 0, 0, 0], true],
    ['yellow', [0, 0, 1, 0], false],
    ['red', [0, 1, 1, 0], false],
  ] as const)('%s bars on white board', (_, bar, reads) => {
    const inks: TileInks = { ...blackOnNothing, bar }
    const made = codeTile('EAN-13', example, { moduleMm: 0.3, leftMm: 8, heightMm: 6, inks })
    const drawn = drawnSymbol(made.tile, made.symbol)!
    const judged = judge(mapOf(0, [0, 0, 0, 0]), tables, made.tile, drawn)
    expect(judged.grade > 1.5).toBe(reads)
  })

  it('a white patch that ends inside the light margin leaves the reader less of it', () => {
    // White from 2 mm before the first bar on: 6.7 modules where 11 are needed.
    const map = paintMap(
      { size: 500, sideMm: 50, gratings: 0, whites: plates, spots: [], varnish: false },
      x => ({ metal: 1, whites: [0, 0, 0, 25 * (x + 1) > 6 ? 1 : 0] }),
    )
    const [before, after] = judge(map, tables).scans[0]!.quiet
    expect(before).toBeGreaterThan(6)
    expect(before).toBeLessThan(7.5)
    expect(after).toBeGreaterThanOrEqual(quietModules('EAN-13')[1] - 0.1)
  })
})

describe('decodability', () => {
  const runs = generatedRuns('EAN-13', example)
  const bars = { kind: 'EAN-13', runs, modules: 95 } as const

  it('of perfect bars is all of the margin, whatever their size', () => {
    expect(decodability(bars, runs)).toBeCloseTo(1, 12)
    expect(
      decodability(
        bars,
        runs.map(run => 0.264 * run),
      ),
    ).toBeCloseTo(1, 12)
  })

  it('falls as one edge moves: a fifth of a module leaves three fifths', () => {
    const moved = [...runs]
    // Inside the first character: elements 3 to 6.
    moved[4]! += 0.2
    moved[5]! -= 0.2
    expect(decodability(bars, moved)).toBeCloseTo(0.6, 6)
    moved[4]! += 0.4
    moved[5]! -= 0.4
    expect(decodability(bars, moved)).toBeNull()
  })

  it('is not hurt by even growth of the bars but where a digit hangs on their sum', () => {
    const grown = runs.map((run, i) => (i % 2 === 0 ? run + 0.1 : run - 0.1))
    // The example has the digits 1, 2, 7 and 8; two bars grow by 0.2 of the one module that they have to spare.
    expect(decodability(bars, grown)).toBeCloseTo(0.8, 6)
  })

  it('is none for another count of bars', () => {
    expect(decodability(bars, runs.slice(2))).toBeNull()
  })

  it('of narrow and wide bars is how far they keep from the middle', () => {
    const drawn = [1, 3, 1, 1, 3, 1, 3, 1, 1, 1, 3, 1, 1, 3, 1, 1, 3]
    const itf = { kind: 'ITF', runs: drawn, modules: 27 } as const
    expect(decodability(itf, drawn)).toBeCloseTo(1, 12)
    const off = drawn.map((width, i) => (i === 1 ? 2.5 : width))
    expect(decodability(itf, off)).toBeLessThan(0.7)
  })

  it('knows no bars in a plain line', () => {
    expect(expectedBars('Code 128', 'x', new Float64Array(50).fill(0.8))).toBeNull()
  })
})
