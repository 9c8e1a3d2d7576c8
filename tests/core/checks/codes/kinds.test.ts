import { describe, expect, it } from 'vitest'
import { quietModules } from '../../../../core/checks/codes/bars.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import type { PaintedLayer } from '../../painted.ts'
import {
  bars,
  board,
  type CodeShape,
  codesOf,
  example,
  foil,
  inputOf,
  matrix,
  printed,
  run,
  sideMm,
  xMm,
  yMm,
} from './fixture.ts'

/** Something dark beside a symbol, from one place to another, mm. */
const rule = (from: number, to: number, low = 0, high = sideMm): PaintedLayer => ({
  name: 'rule',
  paint: (x, y) => {
    const inside = xMm(x) > from && xMm(x) < to && yMm(y) > low && yMm(y) < high
    return [0, 0, 0, 1, inside ? 1 : 0]
  },
})
/** Full white round a symbol, mm beyond it. */
const whiteRound =
  ({ leftMm, bottomMm, widthMm, heightMm }: CodeShape, beyond: number) =>
  (x: number, y: number) => {
    const out = Math.max(leftMm - x, x - leftMm - widthMm, bottomMm - y, y - bottomMm - heightMm)
    return { metal: 1, whites: [out < beyond ? 1 : 0] }
  }

describe.each([
  ['UPC-E', '01234558', 0.4],
  ['ITF', '19521234567896', 0.3],
  ['Code 128', 'HOS-52-A', 0.3],
  ['EAN-8', '95200002', 0.4],
] as const)('%s', (kind, text, moduleMm) => {
  const symbol = bars(kind, text, { moduleMm, leftMm: 5 })

  it('as the generator draws it, on white board, is a 4', async () => {
    const told = await run(inputOf([printed(symbol)], board))
    const grade = told.find(one => one.code === 'code-grade')!
    expect(grade.where.startsWith(kind)).toBe(true)
    expect(grade.measured!.value).toBeGreaterThanOrEqual(3.5)
    expect(told.map(one => one.code)).not.toContain('code-quiet-zone')
  })

  it('wants its own light margin, and says by how much it is short', async () => {
    const [, right] = quietModules(kind)
    const ends = symbol.leftMm + symbol.widthMm
    const clear = (modules: number) => {
      const from = ends + modules * moduleMm
      return inputOf([printed(symbol), rule(from, from + 1)], board)
    }
    expect(await codesOf(clear(right + 1))).not.toContain('code-quiet-zone')
    const told = (await run(clear(right - 1))).find(one => one.code === 'code-quiet-zone')!
    expect(told.severity).toBe('error')
    // Pixels of 0.1 mm.
    expect(Math.abs(told.measured!.value - (right - 1) * moduleMm)).toBeLessThan(0.12)
  })
})

describe.each([
  ['Data Matrix', 'HOS-52-A', 1],
  ['QR', 'https://halden.example/52', 4],
] as const)('%s', (kind, text, quiet) => {
  const symbol = matrix(kind, text, { leftMm: 15, bottomMm: 15 })
  const layer = printed(symbol)

  it('on white board is a 4 in contrast and modulation, on bare foil it fails', async () => {
    const told = await run(inputOf([layer], board))
    expect(told.map(one => one.code)).toEqual(['code-from-pixels', 'code-grade'])
    expect(told[1]).toMatchObject({ severity: 'note', measured: { value: 4 } })
    expect(told[1]!.where).toBe(`${kind} ${text}`)
    expect(told[1]!.message).toMatch(/4\.0\/16\/660 by contrast and modulation/)
    for (const one of told) expect(one.message).toContain('does not replace verification')
    const bare = await run(inputOf([layer], foil))
    expect(bare.find(one => one.code === 'code-on-foil')).toMatchObject({ severity: 'error' })
  })

  it('wants white under its margins and the register', async () => {
    // Margin, register 0.5 mm and 0.5 mm beyond it.
    const needs = quiet * 0.5 + 1
    expect(await codesOf(inputOf([layer], whiteRound(symbol, needs + 0.2)))).not.toContain('code-white-short')
    const short = (await run(inputOf([layer], whiteRound(symbol, needs - 0.7)))).find(
      one => one.code === 'code-white-short',
    )!
    expect(short.severity).toBe('error')
    // Pixels of 0.2 mm.
    expect(Math.abs(short.measured!.value - 0.3)).toBeLessThan(0.15)
  })

  it('wants clear ground on each side', async () => {
    const top = symbol.bottomMm + symbol.heightMm
    const above = (modules: number) =>
      inputOf([layer, rule(0, sideMm, top + modules * 0.5, top + modules * 0.5 + 1)], board)
    expect(await codesOf(above(quiet + 0.5))).not.toContain('code-quiet-zone')
    const told = (await run(above(quiet - 0.6))).find(one => one.code === 'code-quiet-zone')!
    expect(told.message).toContain('above it')
    expect(Math.abs(told.measured!.value - (quiet - 0.6) * 0.5)).toBeLessThan(0.12)
  })

  it('light on dark is graded as it is printed, and its option is told of', async () => {
    const light = printed(symbol, [0, 0, 0, 0], [0, 0, 0, 1])
    const told = await run(inputOf([light], board))
    expect(told.map(one => one.code)).toEqual(['code-from-pixels', 'code-reversed', 'code-grade'])
    expect(told[1]).toMatchObject({ severity: 'warning', message: expect.stringContaining('ISO/IEC 1') })
    expect(told[2]).toMatchObject({ severity: 'note', measured: { value: 4 } })
    // Light modules of bare metal send nothing to a reader at 45°; black round them does not help.
    expect(await codesOf(inputOf([light], foil))).toContain('code-on-foil')
    // A ground of 40 % grey has the contrast of a 2 or 3 at most.
    const pale = printed(symbol, [0, 0, 0, 0], [0, 0, 0, 0.4])
    const grey = (await run(inputOf([pale], board))).find(one => one.code === 'code-grade')!
    expect(grey.measured!.value).toBeLessThan(4)
    expect(grey.measured!.value).toBeGreaterThan(0)
    // Its margin is dark too: what is light there is in its way.
    const margin: PaintedLayer = {
      name: 'code',
      paint: (x, y) => {
        const beside = xMm(x) > symbol.leftMm + symbol.widthMm + quiet * 0.25
        return [0, 0, 0, 1, symbol.isDark(xMm(x), yMm(y)) || beside ? 0 : 1]
      },
    }
    expect(await codesOf(inputOf([margin], board))).toContain('code-quiet-zone')
  })

  it('near the edge of the art and in small modules is told of', async () => {
    const near = matrix(kind, text, { leftMm: quiet * 0.5 - 0.3, bottomMm: 15 })
    expect(await codesOf(inputOf([printed(near)], board))).toContain('code-cut')
    const small = matrix(kind, text, { moduleMm: 0.2, leftMm: 15, bottomMm: 15 })
    expect(await codesOf(inputOf([printed(small)], board))).toContain('code-size')
  })
})

describe('bars printed otherwise', () => {
  const symbol = bars('EAN-13', example)

  it('of art in RGB are measured by the inks that they become', async () => {
    const under = (x: number, y: number) => ({
      metal: 0,
      cmyk: [0, 0, 0, symbol.isDark(x, y) ? 1 : 0] as const,
    })
    const told = await run(inputOf([printed(symbol, [0, 0, 0])], under, { mode: 'RGB' }))
    expect(told.find(one => one.code === 'code-grade')!.measured!.value).toBeGreaterThanOrEqual(3)
    expect(told.map(one => one.code)).not.toContain('code-bars-several-inks')
  })

  // A dark blue and a red, by their Lab over white.
  it.each([
    ['dark blue', [20, 5, -45], false],
    ['red', [48, 68, 48], true],
  ] as const)('of a spot ink that is %s', async (_, lab, vanishes) => {
    const told = await run(
      inputOf([], (x, y) => ({ metal: 0, spots: [symbol.isDark(x, y) ? 1 : 0] }), {
        channels: [{ name: 'spot 0', paint: (x, y) => (symbol.isDark(xMm(x), yMm(y)) ? 1 : 0) }],
        plan: { spots: [lab] },
      }),
    )
    const found = told.map(one => one.code)
    expect(found.includes('code-ink-light-at-660')).toBe(vanishes)
    if (!vanishes) expect(told.find(one => one.code === 'code-grade')!.measured!.value).toBeGreaterThan(2)
  })

  it.each([
    [0, false],
    [90, false],
    [10, true],
  ])('turned by %i°', async (turnDeg, told) => {
    const upright = bars('EAN-13', example, { turnDeg, leftMm: 10.75, bottomMm: 20 })
    const found = (await run(inputOf([printed(upright)], board))).find(one => one.code === 'code-turned')
    expect(found !== undefined).toBe(told)
    // Pixels of 0.1 mm, looked at over the half of 10 mm.
    if (told) expect(Math.abs(found!.measured!.value - 10)).toBeLessThan(1.2)
  })
})

describe('light of the reader itself', () => {
  const symbol = bars('EAN-13', example)
  const grating = (linesPerMm: number, azimuth = Math.PI / 2) => ({
    pitch: 1e6 / linesPerMm,
    azimuth,
    grooveDepth: 120,
    groove: sinusoid,
    share: 1,
    spreadAlong: 0,
    spreadAcross: 0,
  })
  const patch = (x: number, y: number) => x > 4 && x < 43.5 && y > 15 && y < 32.5

  // sin 45° over 660 nm in two orders, and lines that send nothing up within 5°.
  it.each([
    [1071, 1],
    [1000, 1],
    [536, 2],
    [560, 2],
    [750, 0],
    [1400, 0],
  ])('flares from %i lines/mm in order %i', async (lines, order) => {
    const under = (x: number, y: number) => ({
      metal: 1,
      whites: [patch(x, y) ? 1 : 0],
      gratings: patch(x, y) ? [] : [grating(lines)],
    })
    const told = (await run(inputOf([printed(symbol)], under))).find(one => one.code === 'code-flare')
    if (order === 0) expect(told).toBeUndefined()
    else expect(told!.message).toContain(`order ${order}`)
  })

  it('through the gaps of a screened white hides the bars from a reader that leans', async () => {
    // Order 1 meets the receiver at a tilt of 10°: (sin 55° + sin 10°) / 660 nm.
    const lines = (1e6 * (Math.sin((55 * Math.PI) / 180) + Math.sin((10 * Math.PI) / 180))) / 660
    const over = (white: number) =>
      run(
        inputOf([printed(symbol)], () => ({ metal: 1, whites: [white], gratings: [grating(lines)] }), {
          plan: { whites: [{ opacity: 0.95, hits: 1 }] },
        }),
      )
    const told = (await over(0.85)).find(one => one.code === 'code-tilt')!
    expect(told).toMatchObject({ severity: 'warning', limit: { key: 'codes.tilt', value: 10 } })
    expect(told.message).toContain('of 4 sides')
    expect((await over(1)).map(one => one.code)).not.toContain('code-tilt')
  })
})

describe('a matrix code and a reader that leans', () => {
  const symbol = matrix('Data Matrix', 'HOS-52-A', { leftMm: 15, bottomMm: 15 })
  // Order 1 meets the receiver at a tilt of 10°: (sin 55° + sin 10°) / 660 nm.
  const lines = (1e6 * (Math.sin((55 * Math.PI) / 180) + Math.sin((10 * Math.PI) / 180))) / 660
  const grating = {
    pitch: 1e6 / lines,
    azimuth: Math.PI / 2,
    grooveDepth: 120,
    groove: sinusoid,
    share: 1,
    spreadAlong: 0,
    spreadAcross: 0,
  }
  const over = (white: number) =>
    run(
      inputOf([printed(symbol)], () => ({ metal: 1, whites: [white], gratings: [grating] }), {
        plan: { whites: [{ opacity: 0.95, hits: 1 }] },
      }),
    )
  it('loses it where gaps of a screened white flash, not on a full white', async () => {
    const told = (await over(0.85)).find(one => one.code === 'code-tilt')!
    expect(told).toMatchObject({ severity: 'warning', limit: { key: 'codes.tilt', value: 10 } })
    expect(told.message).toContain('of 4 sides')
    expect((await over(1)).map(one => one.code)).not.toContain('code-tilt')
  })
})

describe('bars and the way through the press', () => {
  const upright = bars('EAN-13', example)
  const lying = bars('EAN-13', example, { turnDeg: 90, leftMm: 10.75, bottomMm: 20 })
  const at = async (shape: CodeShape, value: number) =>
    (
      await run(
        inputOf([printed(shape)], board, { limits: { 'codes.press-way': { value, note: 'nest 4' } } }),
      )
    ).find(one => one.code === 'code-across-press')

  it.each([
    ['upright, sheet going up', upright, 90, null],
    ['upright, sheet going to the right', upright, 0, 90],
    ['upright, sheet going to the left', upright, 180, 90],
    ['lying, sheet going to the right', lying, 0, null],
    ['lying, sheet going up', lying, 90, 90],
    ['upright, sheet askew', upright, 30, 60],
    ['where it is not known', upright, -1, null],
  ] as const)('%s', async (_, shape, way, off) => {
    const told = await at(shape, way)
    if (off === null) return expect(told).toBeUndefined()
    expect(told).toMatchObject({ severity: 'warning', limit: { status: 'own', source: 'nest 4' } })
    expect(Math.abs(told!.measured!.value - off)).toBeLessThan(1.5)
  })
})

describe('bars that the edge of the art has cut, marked or not', () => {
  it.each([
    ['EAN-13', example, 'left', { leftMm: -8 }, [0, 20]],
    ['EAN-13', example, 'right', { leftMm: sideMm - 20 }, [sideMm - 20, sideMm]],
    ['Code 128', 'HOS-52-A', 'left', { leftMm: -12 }, null],
    ['ITF', '19521234567896', 'right', { leftMm: sideMm - 25 }, null],
  ] as const)('%s %s at the %s', async (kind, text, _side, placed, reach) => {
    const told = await run(inputOf([printed(bars(kind, text, placed))], board))
    expect(told).toMatchObject([{ code: 'code-cut', severity: 'warning', where: 'print' }])
    const { bottomMm, topMm, leftMm, rightMm } = told[0]!.box!
    // Lines half a millimetre apart.
    expect(Math.abs(bottomMm - 20)).toBeLessThan(0.7)
    expect(Math.abs(topMm - 30)).toBeLessThan(0.7)
    if (reach === null) return
    // -8 + 95 · 0.3 mm; pixels of 0.1 mm.
    const ends = reach[0] === 0 ? -8 + 28.5 : reach[1]
    expect(Math.abs(rightMm - ends)).toBeLessThan(0.25)
    expect(Math.abs(leftMm - reach[0])).toBeLessThan(0.25)
  })

  it('lying, at the upper and the lower edge', async () => {
    for (const bottomMm of [sideMm - 8, -6]) {
      const lying = bars('EAN-13', example, { turnDeg: 90, bottomMm, leftMm: 10 })
      expect(await codesOf(inputOf([printed(lying)], board))).toEqual(['code-cut'])
    }
  })

  it('marked, it is told once and of the mark', async () => {
    const box = { leftMm: -2, bottomMm: 18, rightMm: 22, topMm: 32 }
    const marked = [{ name: 'Back', kind: 'code', shape: { kind: 'box', box } }] as const
    const told = await run(inputOf([printed(bars('EAN-13', example, { leftMm: -8 }))], board, { marked }))
    expect(told).toMatchObject([{ code: 'code-cut', severity: 'error', where: 'marked code "Back"' }])
  })

  it('at their ends, though it reads', async () => {
    const told = await run(inputOf([printed(bars('EAN-13', example, { bottomMm: -3 }))], board))
    expect(told.find(one => one.code === 'code-cut')).toMatchObject({ severity: 'error' })
    expect(told.map(one => one.code)).toContain('code-grade')
  })

  it('even stripes, a picture and a whole code at the edge are none', async () => {
    const stripes: PaintedLayer = {
      name: 'stripes',
      paint: (x, y) => {
        const inside = xMm(x) < 20 && yMm(y) > 10 && yMm(y) < 40 && Math.floor(xMm(x) / 0.4) % 2 === 1
        return [0, 0, 0, 1, inside ? 1 : 0]
      },
    }
    expect(await codesOf(inputOf([stripes], board))).toEqual(['no-code-found'])
    const noise: PaintedLayer = {
      name: 'sky',
      paint: (x, y) => [0, 0, 0, 1, Math.sin(x * x * 0.37 + y * y * 0.91) > 0.3 ? 1 : 0],
    }
    expect(await codesOf(inputOf([noise], board))).toEqual(['no-code-found'])
    expect(await codesOf(inputOf([printed(bars('EAN-13', example, { leftMm: 4 }))], board))).not.toContain(
      'code-cut',
    )
  })
})

describe('areas that somebody marked as a code', () => {
  const area = (leftMm: number) => ({
    name: 'Back',
    kind: 'code',
    shape: { kind: 'box', box: { leftMm, bottomMm: 18, rightMm: leftMm + 34, topMm: 32 } } as const,
  })
  const symbol = bars('EAN-13', example)

  it('without a code that can be read fail; with one they are judged as any', async () => {
    const told = await run(inputOf([], board, { marked: [area(8)] }))
    expect(told).toMatchObject([{ code: 'code-unread', severity: 'error', where: 'marked code "Back"' }])
    expect(await codesOf(inputOf([printed(symbol)], board, { marked: [area(8)] }))).not.toContain(
      'code-unread',
    )
  })

  it('that reach over the edge are said to be cut', async () => {
    expect(await codesOf(inputOf([], board, { marked: [area(-2)] }))).toEqual(['code-cut'])
  })

  it('for something else are nothing to this check', async () => {
    const marked = [{ ...area(8), kind: 'text' }]
    expect(await codesOf(inputOf([], board, { marked }))).toEqual(['no-code-found'])
  })
})
