import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import type { Box, OutlinePath } from '../../../../core/art/layer.ts'
import { openCodeReader } from '../../../../core/base/code-reader.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import { codesCheck } from '../../../../core/checks/codes/check.ts'
import { codeLimits } from '../../../../core/checks/codes/limits.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { requireLimit } from '../../../../core/checks/limits.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import type { Assigned } from '../../../../core/roles/role.ts'
import { boxBlank } from '../../../support/code-blank.ts'
import { generatedRuns } from '../../../support/code-tile.ts'
import { type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'
import { type PaintedLayer, paintedFile } from '../../painted.ts'

const wasm = fileURLToPath(
  new URL('../../../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url),
)
const check = openCodeReader(readFileSync(wasm)).then(codesCheck)

/** A square panel and its art. */
const sideMm = 50
const artPpi = 254
const side = Math.round((sideMm / 25.4) * artPpi)
const perMm = side / sideMm
const example = '9521234567899'
const moduleMm = 0.3
const symbolAt = { leftMm: 10, bottomMm: 20, heightMm: 10 }

const runs = generatedRuns('EAN-13', example)
const edges = [0]
for (const run of runs) edges.push(edges.at(-1)! + run)

/** Whether a place of the panel is a bar, mm. */
function isBar(x: number, y: number, leftMm = symbolAt.leftMm): boolean {
  const at = (x - leftMm) / moduleMm
  if (at < 0 || at >= 95 || y < symbolAt.bottomMm || y > symbolAt.bottomMm + symbolAt.heightMm) return false
  return edges.findIndex(edge => edge > at) % 2 === 1
}

type Ink = readonly [number, number, number, number]
const bars = (
  ink: Ink = [0, 0, 0, 1],
  leftMm = symbolAt.leftMm,
  light: Ink = [0, 0, 0, 0],
): PaintedLayer => ({
  name: 'code',
  paint: (x, y) => {
    const inside = isBar((x + 0.5) / perMm, sideMm - (y + 0.5) / perMm, leftMm)
    const used = inside ? ink : light
    return [...used, inside || light.some(part => part > 0) ? 1 : 0]
  },
})

const overprint = (id: string, role: Assigned['role'] = 'overprint'): Assigned => ({
  target: { kind: 'layer', id },
  role,
  reason: 'set by you',
  by: 'job',
  amount: { from: 'alpha' },
  askAmount: false,
  amountReason: '',
})

function inputOf(
  layers: readonly PaintedLayer[],
  stack: (x: number, y: number) => PaintStack,
  more: Partial<CheckInput> = {},
): CheckInput {
  const painted = paintedFile({ width: side, height: side, layers })
  const file = { ...painted, art: { ...painted.art, resolutionPpi: artPpi } }
  const map = paintMap(
    {
      size: 250,
      sideMm,
      gratings: 1,
      whites: [{ opacity: 0.9, hits: 2 }],
      spots: [],
      varnish: false,
    },
    (x, y) => stack(((x + 1) * sideMm) / 2, ((y + 1) * sideMm) / 2),
  )
  return {
    art: file.art,
    file,
    assigned: layers.map(({ name }) => overprint(name)),
    map,
    scene: sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 })),
    sets: [],
    blank: null,
    corners: new Map(),
    limits: {},
    ...more,
  }
}

const found = async (input: CheckInput) => (await check).run(input)
const codes = async (input: CheckInput) => (await found(input)).map(one => one.code)
/** Symbol, margins and text with a good millimetre round them. */
const patch = (x: number, y: number) => x > 4.5 && x < 43 && y > 15 && y < 32.5

describe('the check of codes', () => {
  it('on white board says the grade, as an estimate, and nothing else of weight', async () => {
    const input = inputOf([bars()], () => ({ metal: 0 }))
    const told = await found(input)
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
    expect(grade.box!.leftMm).toBeCloseTo(symbolAt.leftMm, 0)
    expect(grade.box!.rightMm).toBeCloseTo(symbolAt.leftMm + 95 * moduleMm, 0)
  })

  it('on bare foil fails and says what white would help', async () => {
    const told = (await found(inputOf([bars()], () => ({ metal: 1 })))).find(
      one => one.code === 'code-on-foil',
    )
    expect(told).toMatchObject({ severity: 'error', measured: { value: 0 } })
    expect(told!.limit).toMatchObject({ key: 'codes.grade', value: 1.5, status: 'memory' })
    expect(told!.fix).toContain('white')
  })

  it('over a white that is large enough passes, over one that is too small does not', async () => {
    const over = (grow: number) =>
      codes(
        inputOf([bars()], (x, y) => ({
          metal: 1,
          whites: [patch(x - grow, y) && patch(x + grow, y) ? 1 : 0],
        })),
      )
    expect(await over(0)).not.toContain('code-white-short')
    expect(await over(1.5)).toContain('code-white-short')
  })

  it('sees flare from a grating beside it', async () => {
    const grating = {
      pitch: 1e6 / 1071,
      azimuth: 1,
      grooveDepth: 80,
      groove: sinusoid,
      share: 1,
      spreadAlong: 0,
      spreadAcross: 0,
    }
    const told = await codes(
      inputOf([bars()], (x, y) => ({
        metal: 1,
        whites: [patch(x, y) ? 1 : 0],
        gratings: x > 43 ? [grating] : [],
      })),
    )
    expect(told).toContain('code-flare')
  })

  it.each([
    ['of two inks', bars([1, 0, 0, 0.9]), 'code-bars-several-inks'],
    ['of an ink that is light in red', bars([0, 1, 0, 0]), 'code-ink-light-at-660'],
    ['that are light on dark', bars([0, 0, 0, 0], symbolAt.leftMm, [0, 0, 0, 1]), 'code-reversed'],
    ['whose margin the edge cuts', bars([0, 0, 0, 1], 2), 'code-cut'],
  ])('bars %s', async (_, layer, code) => {
    expect(await codes(inputOf([layer], () => ({ metal: 0 })))).toContain(code)
  })

  it('something drawn in its margin', async () => {
    const rule: PaintedLayer = {
      name: 'rule',
      paint: x => {
        const inside = Math.abs((x + 0.5) / perMm - 7.5) < 0.25
        return [0, 0, 0, 1, inside ? 1 : 0]
      },
    }
    const told = (await found(inputOf([bars(), rule], () => ({ metal: 0 })))).find(
      one => one.code === 'code-quiet-zone',
    )
    // From 7.75 to 10 mm, pixels of 0.1 mm.
    expect(told!.measured!.value).toBeCloseTo(2.25, 0)
  })

  it('a crease across it', async () => {
    const input = inputOf([bars()], () => ({ metal: 0 }), {
      blank: boxBlank,
      corners: new Map([['front', [11, 10]]]),
    })
    const told = (await found(input)).find(one => one.code === 'code-near-fold')
    expect(told).toMatchObject({ severity: 'error' })
    expect(told!.message).toContain('crease')
  })

  it('outlines are judged as outlines, finer than the pixels of the art', async () => {
    const knot = (x: number, y: number) => ({ in: [x, y], at: [x, y], out: [x, y] }) as const
    const paths = runs.flatMap((_, i): OutlinePath[] => {
      if (i % 2 === 1) return []
      const [from, to] = [edges[i]!, edges[i + 1]!].map(edge => symbolAt.leftMm + edge * moduleMm)
      const [low, high] = [symbolAt.bottomMm, symbolAt.bottomMm + symbolAt.heightMm]
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
      box,
      fill: { space: 'CMYK', values: [0, 0, 0, 1] },
      vectorMask: {
        paths,
        inverted: false,
        disabled: false,
        startsFull: false,
        density: 1,
        feather: 0,
        raster: null,
      },
    }
    const told = await found(inputOf([shape], () => ({ metal: 0 })))
    expect(told.map(one => one.code)).not.toContain('code-from-pixels')
    expect(told.find(one => one.code === 'code-grade')!.measured!.value).toBe(4)
  })

  it('an area for a code without one, and one that the edge cuts', async () => {
    const box = { left: 0, top: 0, right: 100, bottom: 50 }
    const area = (at: Box): CheckInput => {
      const input = inputOf([{ name: 'code area', paint: () => [0, 0, 0, 0, 1], box: at }], () => ({
        metal: 0,
      }))
      return { ...input, assigned: [overprint('code area', 'codingArea')] }
    }
    expect(await codes(area(box))).toEqual(['code-cut'])
    expect(await codes(area({ left: 45, top: 45, right: 100, bottom: 75 }))).toEqual(['code-area-empty'])
  })

  it('no code at all is a word', async () => {
    expect(await codes(inputOf([], () => ({ metal: 1 })))).toEqual(['no-code-found'])
  })

  it('stops when told', async () => {
    const stop = new AbortController()
    stop.abort()
    await expect(
      (await check).run(
        inputOf([bars()], () => ({ metal: 0 })),
        { signal: stop.signal },
      ),
    ).rejects.toThrow(Cancelled)
  })

  it('has limits whose usual values lie in their own ranges', () => {
    for (const [key, limit] of Object.entries(codeLimits))
      expect(() => requireLimit(key, limit, limit.usual)).not.toThrow()
  })
})
