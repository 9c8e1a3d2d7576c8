import { describe, expect, test } from 'vitest'
import { Cancelled } from '../../../../core/base/task.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { legibilityLimits } from '../../../../core/checks/legibility/limits.ts'
import { typeObjects } from '../../../../core/checks/legibility/object.ts'
import { judgeLegibility, legibilityPart } from '../../../../core/checks/legibility/part.ts'
import { legibilityResult } from '../../../../core/checks/legibility/result.ts'
import { usualNeeds } from '../../../../core/checks/legibility/usual.ts'
import { type Luminances, tiltOf } from '../../../../core/checks/legibility/view.ts'
import { requireLimit } from '../../../../core/checks/limits.ts'
import type { MarkedArea } from '../../../../core/checks/marked.ts'
import type { PaintedLayer } from '../../painted.ts'
import {
  type BlockText,
  groove,
  held,
  inBlocks,
  label,
  needsOf,
  rectangles,
  sideMm,
  textLayer,
  usualScene,
} from './fixture.ts'

const word: BlockText = { word: 'HELLENS', xMm: 4, yMm: 9, cellMm: 0.3 }
/** Away from where the lamp is mirrored into the eye, at 15°. */
const views = [0, 40, -30].map(tilt => ({ pose: held(tilt, 0), light: usualScene.light, weight: 1 }))

const run = (input: CheckInput, marked: readonly MarkedArea[] = []) =>
  legibilityPart(one => ({ ...needsOf(one, views), marked })).run(input)
const codes = async (...args: Parameters<typeof run>) => (await run(...args)).map(one => one.code)

const blackOn =
  (text: BlockText, whites: readonly number[] = [1]) =>
  (x: number, y: number) => ({
    gratings: [groove],
    whites,
    cmyk: [0, 0, 0, inBlocks(text, x, y) ? 1 : 0] as const,
  })

describe('findings', () => {
  test('black type over white of a good size has none', async () => {
    expect(await codes(label([textLayer('Lot', word)], blackOn(word)))).toEqual([])
  })

  test('the same on bare foil says how it is lost, where it is worst, and by which limit', async () => {
    const found = await run(label([textLayer('Lot', word)], blackOn(word, [0])))
    const lost = found.find(one => one.code === 'contrast-lost')!
    expect(lost).toMatchObject({
      check: 'legibility',
      key: 'legibility contrast-lost layer Lot',
      where: 'text layer "Lot"',
      severity: 'error',
    })
    expect(views.map(one => one.pose)).toContainEqual(lost.held)
    expect(lost.measured!.value).toBeGreaterThan(lost.limit!.value)
    expect(lost.box!.leftMm).toBeCloseTo(4, 1)
    expect(lost.limit).toMatchObject({ key: 'legibility.below-most', unit: '%', status: 'proposed' })
  })

  test('small type: its size against the plant and against foil, by the stricter limit', async () => {
    const small: BlockText = { word: 'HELLENS', xMm: 4, yMm: 9, cellMm: 0.166_67 }
    // Capitals of 1.17 mm: 4.7 pt, enough for one ink on board, too little over white on foil.
    const found = await run(label([textLayer('Lot', small)], blackOn(small)))
    expect(found.map(one => [one.code, one.severity])).toEqual([['type-too-small', 'warning']])
    expect(found[0]!.limit).toMatchObject({ key: 'legibility.size-white', value: 6 })
    expect(Math.abs(found[0]!.measured!.value - (7 * 0.166_67) / 0.7 / (25.4 / 72))).toBeLessThan(0.2)
  })

  test('type left open in white to bare foil is held to what foil needs', async () => {
    const open = (x: number, y: number) => ({ gratings: [groove], whites: [inBlocks(word, x, y) ? 0 : 1] })
    const input = label([textLayer('Lot', { ...word })], open)
    const report = await judgeLegibility(input, needsOf(input, views))
    expect(report.judged[0]).toMatchObject({ printed: { on: 'foil', reversed: true, inks: 1 } })
    const size = (
      await run({ ...input, limits: { 'legibility.size-foil': { value: 12, note: 'the plant' } } })
    ).find(one => one.code === 'type-too-small')!
    expect(size.limit).toMatchObject({ status: 'own', source: 'the plant', value: 12 })
    expect(size.severity).toBe('error')
  })

  test('white type in an ink that lies on foil has white of its own behind it', async () => {
    const inInk = (x: number, y: number) =>
      inBlocks(word, x, y)
        ? { gratings: [groove], whites: [1] }
        : { gratings: [groove], cmyk: [0, 0, 0, 1] as const }
    const input = label([textLayer('Lot', word)], inInk)
    const { judged } = await judgeLegibility(input, needsOf(input, views))
    expect(judged[0]).toMatchObject({ printed: { on: 'foil', reversed: false, inWhite: true } })
    const found = await run({ ...input, limits: { 'legibility.size-white': { value: 12, note: 'a test' } } })
    expect(found.find(one => one.code === 'type-too-small')).toMatchObject({
      severity: 'error',
      limit: { key: 'legibility.size-white' },
    })
  })

  test('a mark finds its type in the plates', async () => {
    const input = label([], blackOn(word, [0]))
    const mark: MarkedArea = {
      name: 'Lot',
      kind: 'text',
      shape: { kind: 'box', box: { leftMm: 3.5, bottomMm: 8.5, rightMm: 17, topMm: 11.6 } },
    }
    expect(await codes(input, [mark])).toContain('contrast-lost')
    const outline: MarkedArea = {
      name: 'Lot',
      kind: 'text',
      shape: {
        kind: 'outline',
        rings: [
          [
            [3.5, 8.5],
            [17, 8.5],
            [17, 11.6],
            [3.5, 11.6],
          ],
        ],
      },
    }
    expect(await codes(input, [outline])).toEqual(await codes(input, [mark]))
  })
})

test('the result has every object in every view, and can travel', async () => {
  const input = label(
    [textLayer('Lot', word), textLayer('Gone', { ...word, xMm: sideMm + 2 })],
    blackOn(word, [0]),
  )
  const result = await legibilityResult(input)
  expect(result.lamps).toEqual(['Lamp', 'torch', 'window'])
  expect(result.views.length).toBe(3 * 24 * 25)
  expect(result.objects.map(one => one.key).sort()).toEqual(['layer Gone', 'layer Lot'])
  const lot = result.objects.find(one => one.name === 'Lot')!
  const { contrast } = lot.read!
  expect(lot.heat).toBe(contrast!.below)
  expect(contrast!.ratios.length).toBe(result.views.length)
  expect(contrast!.curve.length).toBe(13)
  expect(result.objects.find(one => one.name === 'Gone')).toMatchObject({ heat: null, read: null })
  expect(structuredClone(result)).toEqual(result)
})

test('views count alike, or as often as a hand holds the pack so', () => {
  const input = label([], () => ({}))
  const beyond = (limits: CheckInput['limits']) => {
    const { views, weights } = usualNeeds(input)
    return weights!(limits).reduce((sum, weight, v) => sum + (tiltOf(views[v]!.pose) > 40.1 ? weight : 0), 0)
  }
  // Directions beyond 42.5° of those up to 62.5°, the edges of the cells: (cos 42.5° − cos 62.5°) / (1 − cos 62.5°).
  expect(beyond({})).toBeCloseTo(0.5119, 3)
  // Two-sided tail of the normal distribution beyond 2.125 deviations, of what lies within 3.125: 0.03359 and 0.00178.
  const hand = beyond({ 'legibility.hand': { value: 20, note: 'a test' } })
  expect(hand).toBeCloseTo((0.033_59 - 0.001_78) / (1 - 0.001_78), 3)
})

describe('what is type', () => {
  const letters = rectangles([
    [2, 5, 2.4, 7],
    [3, 5, 3.4, 7],
    [4, 5, 4.4, 7],
    [5, 5, 5.4, 6.4],
    [6, 5, 6.4, 6.4],
  ])
  const whole = { left: 0, top: 0, right: 240, bottom: 240 }
  const shape = (name: string, more: Partial<PaintedLayer>): PaintedLayer => ({
    name,
    kind: 'shape',
    box: whole,
    paint: () => [0, 0, 0, 1, 1],
    ...more,
  })
  const names = (layers: readonly PaintedLayer[], role?: 'dieline') => {
    const { art, assigned, map } = label(layers, () => ({}), role === undefined ? {} : { role })
    return typeObjects(art, assigned, map, []).map(one => `${one.kind} ${one.name}`)
  }

  test('text, and shapes as small and as many as letters', () => {
    const star = rectangles([[1, 1, 15, 15]])
    expect(
      names([
        textLayer('Lot', word),
        shape('Outlined', { vectorMask: letters }),
        shape('Star', { vectorMask: star }),
        shape('Picture', { kind: 'pixel' }),
      ]),
    ).toEqual(['text Lot', 'shapes Outlined'])
  })

  test('not what is hidden, or lies on a layer that is not printed', () => {
    expect(names([textLayer('Lot', word, { visible: false })])).toEqual([])
    expect(names([textLayer('Lot', word)], 'dieline')).toEqual([])
  })

  test('outlined letters are judged from their outlines', async () => {
    const input = label([shape('Outlined', { vectorMask: letters })], (x, y) => ({
      whites: [1],
      cmyk: [0, 0, 0, x > 2 && x < 6.4 && y > 5 && y < 7 && x % 1 < 0.4 && (x < 5 || y < 6.4) ? 1 : 0],
    }))
    const report = await judgeLegibility(input, needsOf(input, views))
    const [one] = report.judged
    expect(one).toMatchObject({ kind: 'judged', printed: { on: 'white', reversed: false, inks: 1 } })
    if (one?.kind !== 'judged') throw new TypeError('expected a judgement')
    // Five bars, 2 and 1.4 mm high.
    expect(one.measure.size).toMatchObject({ from: 'small letters' })
    expect(Math.abs(one.measure.size.xHeightMm - 1.4)).toBeLessThan(0.03)
    expect(Math.abs(one.measure.strokes.thinMm - 0.4)).toBeLessThan(0.02)
  })
})

describe('bad input', () => {
  const dark: Luminances = async spots => new Float32Array(spots.length).fill(0.1)

  test('type without ink, of no extent, of no alpha', async () => {
    const nothing = () => ({ whites: [1] })
    expect(await codes(label([textLayer('Lot', word)], nothing))).toEqual(['type-without-ink'])
    const empty = { left: 0, top: 0, right: 0, bottom: 0 }
    expect(await codes(label([textLayer('Lot', word, { box: empty })], nothing))).toEqual([
      'type-without-ink',
    ])
    expect(
      await codes(label([textLayer('Lot', word, { paint: () => [0, 0, 0, 1, 0] })], blackOn(word))),
    ).toEqual(['type-without-ink'])
  })

  test('type beyond the art, and across its edge', async () => {
    const outside = { ...word, xMm: sideMm + 2 }
    expect(await codes(label([textLayer('Lot', outside)], blackOn(word)))).toEqual(['type-outside-art'])
    const across = { ...word, xMm: 12 }
    expect(await codes(label([textLayer('Lot', across)], blackOn(across)))).toContain('type-cut-by-edge')
  })

  test('a mark of nothing, and one beside the art', async () => {
    const box = (leftMm: number, rightMm: number): MarkedArea => ({
      name: 'Lot',
      kind: 'text',
      shape: { kind: 'box', box: { leftMm, bottomMm: 2, rightMm, topMm: 4 } },
    })
    const input = label([], blackOn(word))
    expect(await codes(input, [box(2, 6)])).toEqual(['type-without-ink'])
    expect(await codes(input, [box(2, 2)])).toEqual(['type-without-ink'])
    expect(await codes(input, [box(30, 40)])).toEqual(['type-outside-art'])
  })

  test('views that show nothing lit', async () => {
    const input = label([textLayer('Lot', word)], blackOn(word))
    const back = [{ pose: held(170, 0), light: usualScene.light, weight: 1 }]
    const found = await legibilityPart(one => needsOf(one, back)).run(input)
    expect(found.map(one => one.code)).toEqual(['type-never-lit'])
  })

  test('10 000 pieces of type: the lowest are judged, the rest is said; it tells how far it is and can be stopped', async () => {
    const lines = Array.from({ length: 10_000 }, (_, i) =>
      textLayer(`Line ${i}`, { word: 'HE', xMm: 2, yMm: 2 + (i % 100) * 0.1, cellMm: 0.1 }),
    )
    const input = {
      ...label(lines, blackOn(word)),
      limits: { 'legibility.objects': { value: 20, note: 'a test' } },
    }
    const needs = { views: views.slice(0, 1), luminances: dark, marked: [] }
    const steps: number[] = []
    const found = await legibilityPart(() => needs).run(input, { progress: done => steps.push(done) })
    expect(found.at(-1)).toMatchObject({ code: 'too-much-type', measured: { value: 10_000, unit: '' } })
    expect(steps.length).toBe(21)
    expect(steps).toEqual([...steps].sort((a, b) => a - b))
    expect(steps.at(-1)).toBe(1)
    const stop = new AbortController()
    const stopped = judgeLegibility(input, needs, {
      signal: stop.signal,
      progress: done => {
        if (done > 0.2) stop.abort()
      },
    })
    await expect(stopped).rejects.toThrow(Cancelled)
  })

  test('every limit holds its usual value, and says no to others', () => {
    for (const [key, limit] of Object.entries(legibilityLimits)) {
      requireLimit(key, limit, limit.usual)
      expect(() => requireLimit(key, limit, limit.range[1] * 2 + 1)).toThrow(key)
    }
  })
})
