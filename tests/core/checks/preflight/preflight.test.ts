import { describe, expect, it } from 'vitest'
import type { Layer } from '../../../../core/art/layer.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import type { Blank } from '../../../../core/carton/blank.ts'
import type { Point } from '../../../../core/carton/die.ts'
import type { CheckFinding } from '../../../../core/checks/finding.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { preflightCheck } from '../../../../core/checks/preflight/check.ts'
import { liveFonts } from '../../../../core/checks/preflight/fonts.ts'
import type { Place } from '../../../../core/checks/preflight/place.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import type { RoleName } from '../../../../core/roles/role.ts'
import { checkInput } from '../../../support/check-input.ts'
import { plainArt } from '../../../support/job.ts'
import type { PaintStack } from '../../../support/paint-map.ts'
import { type PaintedChannel, type PaintedLayer, paintedFile } from '../../painted.ts'

/** Art of 20 × 20 mm at 304.8 ppi; the panel is 14 × 14 mm in its middle, so 3 mm are bleed. */
const size = 240
const sideMm = 20

const front: Blank = {
  widthMm: 14,
  heightMm: 14,
  caliperMm: 0.4,
  panels: [
    {
      name: 'front',
      outline: [
        [0, 0],
        [14, 0],
        [14, 14],
        [0, 14],
      ],
    },
  ],
  hinges: [],
  root: 'front',
  die: { lines: [], glue: [], bleed: [] },
}
const within = (x: number, y: number, half: number) => Math.abs(x) < half && Math.abs(y) < half
const clean = (x: number, y: number): PaintStack => ({
  whites: [within(x, y, 0.6) ? 1 : 0],
  cmyk: within(x, y, 0.5) ? [1, 0.5, 0, 0] : [0, 0, 0, 0],
})
/** A picture of changing tone, in the middle. */
const picture: PaintedLayer = {
  name: 'Comet',
  paint: (x, y) => [x / size, 0.5, 0, 0, within((2 * x) / size - 1, (2 * y) / size - 1, 0.5) ? 1 : 0],
}

interface Plant {
  readonly paint?: (x: number, y: number) => PaintStack
  readonly layers?: readonly PaintedLayer[]
  readonly channels?: readonly PaintedChannel[]
  readonly roles?: Readonly<Record<string, RoleName>>
  readonly change?: Partial<CheckInput>
  readonly map?: Partial<MaterialMap>
  readonly spots?: readonly (readonly [number, number, number])[]
  readonly varnish?: boolean
  readonly pixels?: number
}

function input({
  paint = clean,
  layers = [picture],
  channels = [],
  roles = {},
  change = {},
  map = {},
  spots = [],
  varnish = false,
  pixels = size,
}: Plant = {}): CheckInput {
  const file = paintedFile({ width: pixels, height: pixels, layers, channels })
  const roleOf = (id: string, otherwise: RoleName) => roles[id] ?? otherwise
  const base = checkInput(
    { size, sideMm, gratings: 0, whites: [{ opacity: 0.9, hits: 1 }], spots, varnish },
    paint,
    {
      art: file.art,
      file,
      assigned: [
        ...file.art.layers.map(({ id }) => ({
          target: { kind: 'layer', id } as const,
          role: roleOf(id, 'overprint'),
        })),
        ...file.art.channels.map(({ id }) => ({
          target: { kind: 'channel', id } as const,
          role: roleOf(id, 'spotInk'),
        })),
      ].map(
        one =>
          ({
            ...one,
            reason: 'set by you',
            by: 'job',
            amount: { from: 'alpha' },
            askAmount: false,
            amountReason: '',
          }) as const,
      ),
      // Nothing here asks for light.
      sets: [],
      blank: front,
      corners: new Map([['front', [-3, -3]]] as const),
      ...change,
    },
  )
  return { ...base, map: { ...base.map, ...map } }
}

const run = (plant: Plant = {}, places: readonly Place[] = []) => preflightCheck(places).run(input(plant))
const codes = (found: readonly CheckFinding[]) => found.map(({ code }) => code)

/** Plants a fault that must be found once, and nothing else with it. */
async function alone(code: string, plant: Plant, places: readonly Place[] = []): Promise<CheckFinding> {
  const found = await run(plant, places)
  expect(codes(found)).toEqual([code])
  expect(found[0]!.key.startsWith(`preflight/${code}`)).toBe(true)
  return found[0]!
}

const text = (value: string, more: Partial<PaintedLayer> = {}): PaintedLayer => ({
  name: value,
  kind: 'text',
  text: { value, boxMm: null },
  ...more,
})
const box = (left: number, top: number, right: number, bottom: number): Layer['box'] => ({
  left,
  top,
  right,
  bottom,
})
const pixel = sideMm / size

describe('preflight', () => {
  it('finds nothing in clean art', async () => {
    expect(await run()).toEqual([])
  })

  it('is told to stop', async () => {
    await expect(preflightCheck().run(input(), { signal: AbortSignal.abort() })).rejects.toThrow(Cancelled)
  })

  it('bleed that stops short', async () => {
    const paint = (x: number, y: number): PaintStack => ({
      whites: [within(x, y, 0.8) ? 1 : 0],
      cmyk: within(x, y, 0.8) ? [1, 0, 0, 0] : [0, 0, 0, 0],
    })
    const one = await alone('bleed-short', { paint })
    // Ink ends at 8 mm from the middle, the cut lies at 7.
    expect(one.measured!.value).toBeCloseTo(1, 0)
    expect(one).toMatchObject({ severity: 'error', limit: { value: 3, status: 'trade' } })
    const whole = (): PaintStack => ({ whites: [1], cmyk: [1, 0, 0, 0] })
    expect(codes(await run({ paint: whole }))).toEqual([])
  })

  it('a code too near to the cut', async () => {
    const place = (leftMm: number): Place => ({
      name: 'EAN',
      kind: 'code',
      box: { leftMm, bottomMm: 8, rightMm: 12, topMm: 12 },
    })
    expect(await alone('outside-safe-zone', {}, [place(4.5)])).toMatchObject({
      severity: 'error',
      measured: { value: 1.5, unit: 'mm' },
    })
    expect(await alone('outside-safe-zone', {}, [place(5.5)])).toMatchObject({
      severity: 'warning',
      limit: { value: 3 },
    })
    expect(await alone('outside-safe-zone', {}, [place(2)])).toMatchObject({ message: 'it runs over a cut' })
    expect(await run({}, [place(6)])).toEqual([])
  })

  it('too few pixels', async () => {
    expect(await alone('resolution-low', { pixels: 180 })).toMatchObject({
      severity: 'warning',
      measured: { value: 229, unit: 'ppi' },
    })
    expect(await alone('resolution-low', { pixels: 100 })).toMatchObject({ severity: 'error' })
  })

  it('line art kept as pixels', async () => {
    const flat: PaintedLayer = { ...picture, paint: x => [1, 0, 0, 0, x < size / 2 ? 1 : 0] }
    expect(await alone('line-art-as-pixels', { layers: [flat] })).toMatchObject({ severity: 'note' })
  })

  describe('thin lines', () => {
    /** A level line across the middle, of a width in mm by its coverage. */
    const line = (widthMm: number, yMm: number): PaintedLayer => ({
      name: 'Orbit',
      paint: (x, y) => {
        const [from, to] = [yMm / pixel, (yMm + widthMm) / pixel]
        const cover = Math.max(0, Math.min(to, y + 1) - Math.max(from, y))
        return [x / size, 0.5, 0, 0, x > 60 && x < 180 ? cover : 0]
      },
    })
    it('on white and on foil have limits of their own', async () => {
      const one = await alone('line-too-thin', { layers: [line(0.15, 2.02)] })
      expect(one.measured!.value).toBeCloseTo(0.15, 2)
      expect(one.limit).toMatchObject({ key: 'preflight.lineOnFoil', value: 0.2 })
      expect(await run({ layers: [line(0.15, 9.02)] })).toEqual([])
      const onWhite = await alone('line-too-thin', { layers: [line(0.04, 9.02)] })
      expect(onWhite.limit).toMatchObject({ key: 'preflight.lineOnWhite' })
      expect(await run({ layers: [line(0.25, 2.02)] })).toEqual([])
    })
    it('at an angle have their own width', async () => {
      const slanted = (widthMm: number): PaintedLayer => ({
        name: 'Tail',
        paint: (x, y) => {
          let cover = 0
          for (let j = 0; j < 8; j++)
            for (let i = 0; i < 8; i++) {
              const [u, v] = [(x + (i + 0.5) / 8) * pixel - 10, (y + (j + 0.5) / 8) * pixel - 3]
              if (Math.abs(0.6 * u - 0.8 * v) < widthMm / 2 && Math.abs(0.8 * u + 0.6 * v) < 2)
                cover += 1 / 64
            }
          return [x / size, 0.5, 0, 0, cover]
        },
      })
      const one = await alone('line-too-thin', { layers: [slanted(0.15)] })
      expect(Math.abs(one.measured!.value - 0.15)).toBeLessThan(0.02)
      expect(await run({ layers: [slanted(0.25)] })).toEqual([])
    })
    it('left open in a shape', async () => {
      const gap = (widthMm: number): PaintedLayer => ({
        ...picture,
        paint: (x, y) => {
          const inside = within((2 * x) / size - 1, (2 * y) / size - 1, 0.5)
          const open = Math.max(0, Math.min((10 + widthMm) / pixel, y + 1) - Math.max(10 / pixel, y))
          return [x / size, 0.5, 0, 0, inside ? (x > 80 && x < 160 ? 1 - open : 1) : 0]
        },
      })
      const one = await alone('gap-too-thin', { layers: [gap(0.08)] })
      expect(one.measured!.value).toBeCloseTo(0.08, 2)
      expect(await run({ layers: [gap(0.2)] })).toEqual([])
    })
  })

  it('tints that do not hold, and that fill in', async () => {
    const tint =
      (tone: number) =>
      (x: number, y: number): PaintStack => ({
        ...clean(x, y),
        cmyk: within(x, y, 0.5) ? [1, tone, 0, 0] : [0, 0, 0, 0],
      })
    expect(await alone('tint-too-light', { paint: tint(0.03) })).toMatchObject({
      measured: { value: 3.1, unit: '%' },
      limit: { value: 5 },
    })
    expect(await alone('tint-too-dark', { paint: tint(0.98) })).toMatchObject({
      where: 'ink M',
      limit: { value: 95 },
    })
    expect(await run({ paint: tint(0.05) })).toEqual([])
    expect(await run({ paint: tint(1) })).toEqual([])
  })

  it('too much ink on foil, white apart', async () => {
    const heavy =
      (metal: number, sum: number) =>
      (x: number, y: number): PaintStack => ({
        metal,
        ...clean(x, y),
        cmyk: within(x, y, 0.5) ? [1, 1, sum - 2, 0] : [0, 0, 0, 0],
      })
    const one = await alone('ink-total', { paint: heavy(1, 2.9) })
    expect(one).toMatchObject({
      severity: 'error',
      measured: { value: 290, unit: '%' },
      limit: { value: 280, status: 'proposed' },
    })
    expect(one.message).toContain('100 % of white')
    expect(await run({ paint: heavy(1, 2.8) })).toEqual([])
    expect(await run({ paint: heavy(0, 2.9) })).toEqual([])
  })

  describe('glue zones', () => {
    const zone = {
      ...front,
      die: {
        ...front.die,
        glue: [
          [
            [1, 1],
            [5, 1],
            [5, 3],
            [1, 3],
          ],
        ],
      },
    } as const satisfies Blank
    const bare = (x: number, y: number): PaintStack => ({ metal: y < -0.3 ? 0 : 1, ...clean(x, y) })
    // The zone lies from 4 to 8 mm and 4 to 6 mm in the art: -0.6…-0.2 and -0.6…-0.4 here.
    const onZone =
      (stack: PaintStack) =>
      (x: number, y: number): PaintStack =>
        x < -0.1 && y < -0.3 ? { metal: 0, ...stack } : { ...bare(x, y), whites: [0], cmyk: [0, 0, 0, 0] }
    const given = { change: { blank: zone }, layers: [] }
    it('are free', async () => {
      expect(await run({ ...given, paint: onZone({}) })).toEqual([])
    })
    it.each([
      ['white-on-glue', { whites: [1] }],
      ['varnish-on-glue', { varnish: 1 }],
    ] as const)('%s', async (code, stack) => {
      const one = await alone(code, { ...given, paint: onZone(stack), varnish: true })
      expect(one).toMatchObject({ severity: 'error', measured: { value: 8, unit: 'mm²' } })
    })
    it('ink on glue', async () => {
      await alone('ink-on-glue', {
        ...given,
        paint: (x, y) =>
          within(x + 0.4, y + 0.5, 0.06) ? { metal: 0, cmyk: [1, 0, 0, 0] } : onZone({})(x, y),
      })
    })
    it('film is usual on laminated board and a fault on others', async () => {
      const film = { ...given, paint: onZone({ metal: 1 }) }
      expect(await alone('film-on-glue', film)).toMatchObject({ severity: 'error' })
      const { scene } = input()
      const laminated = { ...scene, board: { ...scene.board, build: 'laminated' } } as const
      expect(
        await alone('film-on-glue', { ...film, change: { blank: zone, scene: laminated } }),
      ).toMatchObject({ severity: 'note' })
    })
    it('painted in the art', async () => {
      const painted: PaintedLayer = {
        name: 'Glue flap',
        paint: (x, y) => [0, 1, 0, 0, x > 100 && x < 140 && y > 100 && y < 140 ? 1 : 0],
      }
      const found = await run({ layers: [painted], roles: { 'Glue flap': 'glueZone' } })
      expect(codes(found)).toEqual(['ink-on-glue', 'white-on-glue', 'film-on-glue'])
      expect(found[0]!.where).toBe('glue zone "Glue flap"')
    })
  })

  it('white and colour that meet edge to edge', async () => {
    const paint = (x: number, y: number): PaintStack =>
      within(x, y, 0.3)
        ? { cmyk: [1, 0, 0, 0] }
        : within(x, y, 0.5)
          ? { whites: [1] }
          : { whites: [within(x, y, 0.6) ? 1 : 0], cmyk: [0.5, 0.5, 0, 0] }
    // All round a square of 6 mm, and round the white one of 12 mm, colour and white begin together.
    const trapped = (x: number, y: number): PaintStack =>
      within(x, y, 0.3) ? { cmyk: [1, 0, 0, 0], whites: [within(x, y, 0.28) ? 0 : 1] } : clean(x, y)
    const one = await alone('plates-butt', { paint: (x, y) => (within(x, y, 0.6) ? paint(x, y) : {}) })
    expect(one.measured!.value).toBeGreaterThan(15)
    expect(codes(await run({ paint: trapped }))).toEqual([])
  })

  it('black that knocks white out', async () => {
    const stroke = (x: number, y: number) => Math.abs(x) < 0.05 && Math.abs(y) < 0.4
    const paint =
      (white: number) =>
      (x: number, y: number): PaintStack => ({
        whites: [within(x, y, 0.6) ? (stroke(x, y) ? white : 1) : 0],
        cmyk: stroke(x, y) ? [0, 0, 0, 1] : [0, 0, 0, 0],
      })
    await alone('black-knocks-out-white', { paint: paint(0) })
    expect(await run({ paint: paint(1) })).toEqual([])
  })

  it('white that is missing, and a white plate that is empty', async () => {
    const paint = (x: number, y: number): PaintStack => ({ cmyk: clean(x, y).cmyk! })
    expect(await alone('white-empty', { paint })).toMatchObject({ severity: 'error' })
    expect(await alone('white-missing', { paint, map: { whites: [] } })).toMatchObject({
      severity: 'warning',
    })
  })

  it('what has no ink and overprints', async () => {
    const paper: PaintedLayer = {
      name: 'Stars',
      blendMode: 'multiply',
      fill: { space: 'CMYK', values: [0, 0, 0, 0] },
      paint: x => [0, 0, 0, 0, x > 100 && x < 140 ? 1 : 0],
      kind: 'shape',
    }
    await alone('white-overprints', { layers: [paper] })
    expect(await run({ layers: [{ ...paper, blendMode: 'normal' }] })).toEqual([])
    expect(await run({ layers: [{ ...paper, fill: { space: 'CMYK', values: [0.2, 0, 0, 0] } }] })).toEqual([])
  })

  it('fonts that a page lacks, by name; those that it has are no fault', () => {
    const page = (embedded: boolean) => ({
      page: {
        ...{ number: 1, count: 1, trim: null, bleed: null, inexact: [], readAs: 'inks' as const },
        fonts: [{ name: 'Halden Sans', embedded }],
      },
    })
    const of = (embedded: boolean) =>
      liveFonts({ art: { ...plainArt, ...page(embedded) }, assigned: [] } as unknown as CheckInput)
    expect(of(true)).toEqual([])
    expect(of(false).map(({ code, where }) => [code, where])).toEqual([
      ['fonts-not-embedded', 'fonts "Halden Sans"'],
    ])
  })

  it('live fonts, told once', async () => {
    const one = await alone('fonts-live', { layers: [word('25 mm'), word('82 degrees')] })
    expect(one).toMatchObject({
      severity: 'warning',
      where: '"25 mm", "82 degrees"',
      measured: { value: 2, unit: 'layers' },
    })
  })

  it('text too near to a crease, and over it', async () => {
    const two: Blank = {
      ...front,
      panels: [
        {
          name: 'front',
          outline: [
            [0, 0],
            [6, 0],
            [6, 14],
            [0, 14],
          ],
        },
        {
          name: 'right',
          outline: [
            [6, 0],
            [14, 0],
            [14, 14],
            [6, 14],
          ],
        },
      ],
      hinges: [
        {
          name: 'front to right',
          parent: 'front',
          child: 'right',
          from: [6, 0],
          to: [6, 14],
          closedDeg: 90,
          begins: 0,
          ends: 1,
        },
      ],
    }
    const corners = new Map([
      ['front', [-3, -3]],
      ['right', [-3, -3]],
    ] as const)
    const found = await run({ layers: [word('25 mm')], change: { blank: two, corners } })
    expect(codes(found)).toEqual(['outside-safe-zone', 'fonts-live'])
    expect(found[0]).toMatchObject({ message: 'it runs over a crease', severity: 'error' })
  })

  it('an object beside the art, and text without ink', async () => {
    const beside = box(size + 10, 10, size + 40, 40)
    expect(
      await alone('object-prints-nothing', { layers: [{ name: 'Moon', kind: 'shape', box: beside }] }),
    ).toMatchObject({ severity: 'note' })
    const found = await run({ layers: [word('25 mm', { opacity: 0 })] })
    expect(codes(found)).toEqual(['fonts-live', 'text-without-ink'])
  })

  it('small letters under the x-height of the law', async () => {
    // 0.7 mm of letters in the middle of a face of less than 80 cm².
    const found = await run({ layers: [word('mnu', {}, 0.7)] })
    expect(codes(found)).toEqual(['fonts-live', 'x-height-small'])
    expect(found[1]!.limit).toMatchObject({ value: 0.9, status: 'standard' })
    expect(Math.abs(found[1]!.measured!.value - 0.7)).toBeLessThan(pixel)
    expect(codes(await run({ layers: [word('mnu', {}, 1)] }))).toEqual(['fonts-live'])
  })

  it('names of separations', async () => {
    const ink = (name: string): Plant => ({ channels: [{ name, paint: () => 0 }] })
    expect(await alone('separation-reserved', ink('All'))).toMatchObject({ severity: 'error' })
    await alone('separation-reserved', ink('none'))
    await alone('separation-named-step', ink('Cutting'))
    await alone('separation-named-step', ink('Varnish Free'))
    await alone('separation-named-process', ink('Cyan'))
    await alone('separation-named-process', { ...ink('Magenta'), roles: { Magenta: 'dieline' } })
    expect(
      await run({ channels: [{ name: 'Cutting', paint: () => 0 }], roles: { Cutting: 'dieline' } }),
    ).toEqual([])
    expect(await run(ink('Halden blue'))).toEqual([])
  })

  it('holography finer than its kind can be', async () => {
    const area = (halfMm: number): Partial<MaterialMap> => {
      const { map } = input()
      const data = new Uint8Array(size * size)
      for (let y = 0; y < size; y++)
        for (let x = 0; x < size; x++)
          if (Math.abs(x - 120) * pixel < 5 && Math.abs(y - 120.5) * pixel < halfMm) data[y * size + x] = 1
      return {
        planes: new Map([...map.planes, ['area', { layout: 'full', components: 1, data }]]),
        areas: [...map.areas, { id: 1, name: 'Rays', layerId: '7', effect: 'wave' }],
      }
    }
    expect(await alone('effect-too-small', { map: area(0.3) })).toMatchObject({
      severity: 'error',
      limit: { value: 1 },
    })
    expect(await run({ map: area(0.7) })).toEqual([])
  })

  describe('an area to keep clear', () => {
    /** From 8 to 12 mm across, 8 to 10 mm up; 0.8 mm about it are the register of the plant. */
    const marked = [
      {
        name: 'Date',
        kind: 'plain',
        shape: { kind: 'box', box: { leftMm: 8, bottomMm: 8, rightMm: 12, topMm: 10 } },
      },
    ] as const
    /** Nothing but what a box of the art in mm has. */
    const only =
      (stack: PaintStack, [left, bottom, right, top]: readonly [number, number, number, number]) =>
      (x: number, y: number): PaintStack => {
        const [xMm, yMm] = [10 + 10 * x, 10 + 10 * y]
        return xMm > left && xMm < right && yMm > bottom && yMm < top ? { metal: 0, ...stack } : { metal: 0 }
      }
    const given = { change: { marked }, layers: [], varnish: true }
    const ink = { cmyk: [1, 0, 0, 0] } as const

    it('is clear, whatever white lies there', async () => {
      expect(await run({ ...given, paint: only({ whites: [1] }, [7, 7, 13, 11]) })).toEqual([])
      // A millimetre below it.
      expect(await run({ ...given, paint: only(ink, [7, 5, 13, 7]) })).toEqual([])
    })
    it.each([
      ['print-in-clear', ink],
      ['varnish-in-clear', { varnish: 1 }],
    ] as const)('%s: within it that fails, beside it it is told', async (code, stack) => {
      const within = await alone(code, { ...given, paint: only(stack, [9, 7, 11, 9]) })
      expect(within).toMatchObject({ severity: 'error', measured: { unit: 'mm²' }, limit: { value: 1 } })
      // 2 mm × 1 mm; pixels of 1/12 mm.
      expect(Math.abs(within.measured!.value - 2)).toBeLessThanOrEqual(0.1)
      const beside = await alone(code, { ...given, paint: only(stack, [8, 5, 12, 7.7]) })
      expect(beside).toMatchObject({ severity: 'warning', limit: { value: 0.8, unit: 'mm' } })
      // 4 mm × 0.5 mm.
      expect(Math.abs(beside.measured!.value - 2)).toBeLessThanOrEqual(0.2)
      const limits = { 'preflight.keepClear': { value: 0.1, note: 'digital print' } }
      const close = { ...given, change: { marked, limits } }
      expect(await run({ ...close, paint: only(stack, [8, 5, 12, 7.7]) })).toEqual([])
    })
    it('holography, by the shape that was drawn, not the box around it', async () => {
      const { map } = input({ paint: () => ({ metal: 0 }) })
      const data = new Uint8Array(size * size)
      // The upper right quarter of the art.
      for (let row = 0; row < size / 2; row++) data.fill(1, row * size + size / 2, (row + 1) * size)
      const plant = (rings: readonly (readonly (readonly [number, number])[])[]): Plant => ({
        paint: () => ({ metal: 0 }),
        layers: [],
        change: { marked: [{ name: 'Date', kind: 'plain', shape: { kind: 'outline', rings } }] },
        map: {
          planes: new Map([...map.planes, ['area', { layout: 'full', components: 1, data }]]),
          areas: [{ id: 1, name: 'Rays', layerId: '7', effect: 'wave' }],
        },
      })
      const reached = await alone(
        'holography-in-clear',
        plant([
          [
            [9, 8],
            [13, 8],
            [13, 12],
            [9, 12],
          ],
        ]),
      )
      // 3 mm × 2 mm.
      expect(reached).toMatchObject({ severity: 'error', where: 'area to keep clear "Date"' })
      expect(Math.abs(reached.measured!.value - 6)).toBeLessThanOrEqual(0.2)
      // Its box reaches there, itself it does not come within 0.8 mm.
      expect(
        await run(
          plant([
            [
              [6, 6],
              [13, 6],
              [6, 13],
            ],
          ]),
        ),
      ).toEqual([])
    })
    it('a crease and a glue zone', async () => {
      const lying = (from: Point, to: Point): Plant => ({
        paint: () => ({ metal: 0 }),
        layers: [],
        change: {
          marked,
          blank: {
            ...front,
            hinges: [
              { name: 'fold', parent: 'front', child: 'none', from, to, closedDeg: 90, begins: 0, ends: 1 },
            ],
          },
        },
      })
      // The panel's corner lies at 3 mm of the art: across the area, beside it, and further off.
      expect(await alone('crease-in-clear', lying([7, 0], [7, 14]))).toMatchObject({
        severity: 'error',
        measured: { value: 2, unit: 'mm' },
      })
      const beside = await alone('crease-in-clear', lying([4.5, 0], [4.5, 14]))
      expect(beside).toMatchObject({
        severity: 'warning',
        message: expect.stringContaining('nearer to it than 0.8 mm'),
      })
      expect(await run(lying([4, 0], [4, 14]))).toEqual([])
      const glue = [
        [
          [6, 4],
          [12, 4],
          [12, 6],
          [6, 6],
        ],
      ] as const
      const glued = { marked, blank: { ...front, die: { ...front.die, glue } } }
      // From 9 to 15 mm across, 7 to 9 mm up: 3 mm × 1 mm of it.
      expect(
        await alone('glue-in-clear', { paint: () => ({ metal: 0 }), layers: [], change: glued }),
      ).toMatchObject({ severity: 'error', measured: { value: 3, unit: 'mm²' } })
    })
    it('beside the art, empty, or of another kind there is nothing to find', async () => {
      const far = { leftMm: 60, bottomMm: 60, rightMm: 70, topMm: 70 }
      const none = [
        { name: 'Far', kind: 'plain', shape: { kind: 'box', box: far } },
        { name: 'Empty', kind: 'plain', shape: { kind: 'outline', rings: [] } },
        { ...marked[0], kind: 'later' },
      ] as const
      expect(await run({ ...given, change: { marked: none }, paint: only(ink, [7, 7, 13, 11]) })).toEqual([])
    })
  })

  describe('the dieline', () => {
    const flat = { blank: null, corners: new Map() }
    const path = (points: readonly (readonly [number, number])[], closed: boolean) => ({
      closed,
      continues: false,
      combine: 'unite' as const,
      knots: points.map(at => ({ in: at, at, out: at })),
    })
    const with_ = (
      paths: readonly ReturnType<typeof path>[],
      creases: readonly ReturnType<typeof path>[],
    ): Plant => {
      const { art } = input()
      return {
        change: {
          ...flat,
          art: {
            ...art,
            paths: [
              { name: 'Cut', clipping: false, paths },
              { name: 'Crease', clipping: false, paths: creases },
            ],
          },
        },
      }
    }
    const corners = [
      [2, 2],
      [102, 2],
      [102, 102],
      [2, 102],
    ] as const
    const crease = path(
      [
        [50, 2],
        [50, 102],
      ],
      false,
    )
    it('that is not there is told', async () => {
      expect(await alone('dieline-missing', { change: flat })).toMatchObject({ severity: 'note' })
    })
    it('that closes is fine', async () => {
      expect(await run(with_([path(corners, true)], [crease]))).toEqual([])
    })
    it('that is open fails, with the place', async () => {
      const found = await run(with_([path([...corners, [2, 8]], false)], [crease]))
      expect(found.length).toBeGreaterThan(0)
      expect(new Set(codes(found))).toEqual(new Set(['dieline-open']))
      expect(found[0]!.severity).toBe('error')
    })
  })
})

/** A word in the middle: strokes 0.4 mm wide, letters of a height in mm, tall enough for the law unless told otherwise. */
function word(value: string, more: Partial<PaintedLayer> = {}, heightMm = 1.5): PaintedLayer {
  const half = heightMm / 2 / pixel
  return text(value, {
    box: box(84, 100, 156, 140),
    paint: (x, y) => [
      0,
      0,
      0,
      1,
      x > 84 && x < 156 && (x - 84) % 12 < 6 && Math.abs(y + 0.5 - 120) < half ? 1 : 0,
    ],
    ...more,
  })
}
