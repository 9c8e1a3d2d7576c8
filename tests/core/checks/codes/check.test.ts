import { describe, expect, it } from 'vitest'
import type { Box, OutlinePath } from '../../../../core/art/layer.ts'
import { plainMask } from '../../../../core/art/plain-layer.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import { codeLimits } from '../../../../core/checks/codes/limits.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { requireLimit } from '../../../../core/checks/limits.ts'
import { boxBlank } from '../../../support/code-blank.ts'
import { generatedRuns } from '../../../support/code-tile.ts'
import type { PaintedLayer } from '../../painted.ts'
import {
  bars,
  black,
  board,
  codes,
  codesOf,
  example,
  foil,
  inputOf,
  overprint,
  printed,
  run,
  side,
  xMm,
} from './fixture.ts'

const moduleMm = 0.3
const symbol = bars('EAN-13', example, { moduleMm })
const runs = generatedRuns('EAN-13', example)
const edges = [0]
for (const run of runs) edges.push(edges.at(-1)! + run)

/** Symbol, margins and text with a good millimetre round them. */
const patch = (x: number, y: number) => x > 4.5 && x < 43 && y > 15 && y < 32.5

describe('the check of codes', () => {
  it('on white board says the grade, as an estimate, and nothing else of weight', async () => {
    const input = inputOf([printed(symbol)], board)
    const told = await run(input)
    expect(told.map(one => [one.code, one.severity])).toEqual([
      ['code-from-pixels', 'note'],
      ['code-height', 'note'],
      ['code-grade', 'note'],
    ])
    const grade = told[2]!
    expect(grade.where).toBe(`EAN-13 ${example}`)
    expect(grade.key).toBe(`codes/EAN-13/${example}/code-grade`)
    expect(grade.measured!.value).toBeGreaterThanOrEqual(3.5)
    expect(grade.message).toMatch(/estimated grade \d\.\d\/09\/660/)
    for (const one of told) expect(one.message).toContain('does not replace verification')
    // As it was drawn; pixels of 0.1 mm.
    expect(grade.box!.leftMm).toBeCloseTo(symbol.leftMm, 0)
    expect(grade.box!.rightMm).toBeCloseTo(symbol.leftMm + 95 * moduleMm, 0)
  })

  it('on bare foil fails and says what white would help', async () => {
    const told = (await run(inputOf([printed(symbol)], foil))).find(one => one.code === 'code-on-foil')
    expect(told).toMatchObject({ severity: 'error', measured: { value: 0 } })
    expect(told!.limit).toMatchObject({ key: 'codes.grade', value: 1.5, status: 'memory' })
    expect(told!.fix).toContain('white')
  })

  it('over a white that is large enough passes, over one that is too small does not', async () => {
    const over = (grow: number) =>
      codesOf(
        inputOf([printed(symbol)], (x, y) => ({
          metal: 1,
          whites: [patch(x - grow, y) && patch(x + grow, y) ? 1 : 0],
        })),
      )
    expect(await over(0)).not.toContain('code-white-short')
    expect(await over(1.5)).toContain('code-white-short')
  })

  it.each([
    ['of two inks', printed(symbol, [1, 0, 0, 0.9]), 'code-bars-several-inks'],
    ['of an ink that is light in red', printed(symbol, [0, 1, 0, 0]), 'code-ink-light-at-660'],
    ['that are light on dark', printed(symbol, [0, 0, 0, 0], black), 'code-reversed'],
    ['whose margin the edge cuts', printed(bars('EAN-13', example, { leftMm: 2 })), 'code-cut'],
  ])('bars %s', async (_, layer, code) => {
    expect(await codesOf(inputOf([layer], board))).toContain(code)
  })

  it.each([
    ['EAN-13', example, 'ISO/IEC 15420'],
    ['ITF', '19521234567896', 'ISO/IEC 16390'],
    ['Code 128', 'HOS-52-A', 'ISO/IEC 15417'],
  ] as const)('%s in light bars has grade 0, by its standard', async (kind, text, standard) => {
    const light = printed(bars(kind, text, { moduleMm, leftMm: 6 }), [0, 0, 0, 0], black)
    const told = (await run(inputOf([light], board))).find(one => one.code === 'code-reversed')
    expect(told).toMatchObject({ severity: 'error', measured: { value: 0 }, limit: { key: 'codes.grade' } })
    expect(told!.message).toContain(standard)
  })

  it('something drawn in its margin', async () => {
    const rule: PaintedLayer = {
      name: 'rule',
      paint: x => {
        const inside = Math.abs(xMm(x) - 7.5) < 0.25
        return [0, 0, 0, 1, inside ? 1 : 0]
      },
    }
    const told = (await run(inputOf([printed(symbol), rule], board))).find(
      one => one.code === 'code-quiet-zone',
    )
    // From 7.75 to 10 mm, pixels of 0.1 mm.
    expect(told!.measured!.value).toBeCloseTo(2.25, 0)
  })

  it('a crease across it', async () => {
    const input = inputOf([printed(symbol)], board, {
      blank: boxBlank,
      corners: new Map([['front', [11, 10]]]),
    })
    const told = (await run(input)).find(one => one.code === 'code-near-fold')
    expect(told).toMatchObject({ severity: 'error' })
    expect(told!.message).toContain('crease')
  })

  it.each([
    ['by itself', null, 'outlines'],
    ['in a plain group', { opacity: 1 }, 'outlines'],
    ['in a group that is half there', { opacity: 0.5 }, 'pixels'],
  ])('an outline %s', async (_, group, from) => {
    const knot = (x: number, y: number) => ({ in: [x, y], at: [x, y], out: [x, y] }) as const
    const paths = runs.flatMap((_, i): OutlinePath[] => {
      if (i % 2 === 1) return []
      const [from, to] = [edges[i]!, edges[i + 1]!].map(edge => symbol.leftMm + edge * moduleMm)
      const [low, high] = [symbol.bottomMm, symbol.bottomMm + symbol.heightMm]
      return [
        {
          closed: true,
          continues: false,
          combine: 'unite',
          knots: [knot(from!, low), knot(to!, low), knot(to!, high), knot(from!, high)],
        },
      ]
    })
    const box: Box = { left: 0, top: 0, right: side, bottom: side }
    const shape: PaintedLayer = {
      name: 'bars',
      kind: 'shape',
      parent: group === null ? null : 'group',
      box,
      fill: { space: 'CMYK', values: [0, 0, 0, 1] },
      vectorMask: plainMask(paths),
    }
    const above: PaintedLayer[] = group === null ? [] : [{ name: 'group', kind: 'group', ...group }]
    const told = await run(inputOf([shape, ...above], board))
    expect(told.some(one => one.code === 'code-from-pixels')).toBe(from === 'pixels')
    // Finer than the pixels of the art.
    if (from === 'outlines') expect(told.find(one => one.code === 'code-grade')!.measured!.value).toBe(4)
  })

  it('an area for a code without one, and one that the edge cuts', async () => {
    const box = { left: 0, top: 0, right: 100, bottom: 50 }
    const area = (at: Box): CheckInput => {
      const input = inputOf([{ name: 'code area', paint: () => [0, 0, 0, 0, 1], box: at }], () => ({}))
      return { ...input, assigned: [overprint('code area', 'codingArea')] }
    }
    expect(await codesOf(area(box))).toEqual(['code-cut'])
    expect(await codesOf(area({ left: 45, top: 45, right: 100, bottom: 75 }))).toEqual(['code-area-empty'])
  })

  it('no code at all is a word', async () => {
    expect(await codesOf(inputOf([], foil))).toEqual(['no-code-found'])
  })

  it('a second look says the same, and one in which the layer prints no longer finds none', async () => {
    const input = inputOf([printed(symbol)], board)
    const first = await run(input)
    expect(await run(input)).toEqual(first)
    expect(await codesOf({ ...input, assigned: [overprint('code', 'legend')] })).toEqual(['no-code-found'])
    expect(await codesOf({ ...input, map: inputOf([], foil).map })).toContain('code-on-foil')
  })

  it('stops when told', async () => {
    const stop = new AbortController()
    stop.abort()
    await expect(
      (await codes).run(inputOf([printed(symbol)], board), { signal: stop.signal }),
    ).rejects.toThrow(Cancelled)
  })

  it('has limits whose usual values lie in their own ranges', () => {
    for (const [key, limit] of Object.entries(codeLimits))
      expect(() => requireLimit(key, limit, limit.usual)).not.toThrow()
  })
})
