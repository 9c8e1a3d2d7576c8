import { expect, test } from 'vitest'
import type { Rings } from '../../../../core/base/polygons.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import type { OwnLimits } from '../../../../core/checks/limits.ts'
import { registerFindings } from '../../../../core/checks/register/check.ts'
import { drawSlips, quantile, slipAt } from '../../../../core/checks/register/draws.ts'
import { asDrawn, type Group } from '../../../../core/checks/register/groups.ts'
import { haloRule, stripWidth } from '../../../../core/checks/register/halo.ts'
import { registerLimits } from '../../../../core/checks/register/limits.ts'
import { registerReport, sliversAt } from '../../../../core/checks/register/report.ts'
import { sharedEdges } from '../../../../core/checks/register/shared-edges.ts'
import { sliversOf } from '../../../../core/checks/register/slivers.ts'
import { toleranceOf } from '../../../../core/checks/register/tolerance.ts'
import type { RoleName } from '../../../../core/roles/role.ts'
import { paintedFile } from '../../painted.ts'

const frame = { widthMm: 30, heightMm: 20 }
const about = [15, 10] as const

function rectangle(left: number, bottom: number, right: number, top: number): Rings {
  return [
    [
      [left, bottom],
      [right, bottom],
      [right, top],
      [left, top],
    ],
  ]
}

/** Art of 30 × 20 mm at 20 pixels a millimetre, boxes in mm as layers. */
function boxes(
  layers: Readonly<
    Record<string, { role: RoleName; box: readonly [number, number, number, number]; ink?: number }>
  >,
  limits: OwnLimits = {},
): CheckInput {
  const ppmm = 20
  const file = paintedFile({
    width: 30 * ppmm,
    height: 20 * ppmm,
    layers: Object.entries(layers).map(([name, { box, ink = 1 }]) => {
      const [left, bottom, right, top] = box
      return {
        name,
        paint: (px: number, py: number) => {
          const x = (px + 0.5) / ppmm
          const y = 20 - (py + 0.5) / ppmm
          const inside = x > left && x < right && y > bottom && y < top
          return [ink, 0, 0, 0, inside ? 1 : 0]
        },
      }
    }),
  })
  return {
    art: file.art,
    file,
    assigned: Object.entries(layers).map(([name, { role }]) => ({
      target: { kind: 'layer', id: name },
      role,
      reason: '',
      by: 'rule',
      amount: { from: 'alpha' },
      askAmount: false,
      amountReason: '',
    })),
    map: { ...frame, areas: [], whites: [] } as unknown as CheckInput['map'],
    scene: {} as CheckInput['scene'],
    sets: [],
    blank: null,
    corners: new Map(),
    limits,
  }
}

const few = { draws: 400, seed: 7 }
const findingsOf = async (input: CheckInput) => {
  const report = await registerReport(input, few)
  return registerFindings(report.pairs, input)
}

test('a plant’s trap, register and print to cut: 0.005, 0.0156 and 0.03125 in', () => {
  // A carton plant's specification, in inches.
  expect(registerLimits['register.trap'].usual).toBeCloseTo(0.005 * 25.4, 3)
  expect(registerLimits['register.colour-white'].usual).toBeCloseTo(0.0156 * 25.4, 3)
  expect(registerLimits['register.die-colour'].usual).toBeCloseTo(0.03125 * 25.4, 3)
})

test('white drawn as large as its ink is found once; pulled back it is not', async () => {
  const ink = { role: 'overprint', box: [8, 5, 22, 15] } as const
  const [found, ...others] = await findingsOf(boxes({ ink, white: { role: 'white', box: [8, 5, 22, 15] } }))
  expect(others).toEqual([])
  expect(found?.severity).toBe('warning')
  // σ = 0.396 / 3 each way; the widest of four sides is the larger of two normal numbers: 95 % stay below 2.236 σ.
  expect(found!.measured!.value).toBeGreaterThan(0.26)
  expect(found!.measured!.value).toBeLessThan(0.33)
  expect(found!.box!.leftMm).toBeCloseTo(8, 0)
  const choked = await findingsOf(boxes({ ink, white: { role: 'white', box: [8.5, 5.5, 21.5, 14.5] } }))
  expect(choked).toEqual([])
})

test('holography that meets white shows metal; laid under it, it does not', async () => {
  const holography = { role: 'holography', box: [4, 4, 15, 16] } as const
  const met = await findingsOf(boxes({ holography, white: { role: 'white', box: [15, 4, 26, 16] } }))
  expect(met.map(({ code }) => code)).toEqual(['foil-halo'])
  const lapped = await findingsOf(boxes({ holography, white: { role: 'white', box: [14.3, 3, 26, 17] } }))
  expect(lapped).toEqual([])
})

test('tolerances of 0 show nothing; of 10 mm they fail, and end', async () => {
  const layers = {
    ink: { role: 'overprint', box: [8, 5, 22, 15] },
    white: { role: 'white', box: [8, 5, 22, 15] },
  } as const
  const own = (value: number): OwnLimits => ({ 'register.colour-white': { value, note: 'plant' } })
  expect(await findingsOf(boxes(layers, own(0)))).toEqual([])
  const wide = await findingsOf(boxes(layers, own(10)))
  expect(wide.map(({ severity }) => severity)).toEqual(['error'])
  expect(wide[0]!.limit!.key).toBe('register.failing')
})

test('art without white, inks or holography has nothing to slip', async () => {
  expect(await findingsOf(boxes({}))).toEqual([])
})

test('the same seed draws the same slips; they are spread as the tolerance says', () => {
  const tolerance = { offsetMm: 0.6, turn: 0.001, stretch: 0.002 }
  const slips = drawSlips(tolerance, 20_000, 3)
  expect(drawSlips(tolerance, 20_000, 3)).toEqual(slips)
  expect(drawSlips(tolerance, 10, 4)).not.toEqual(slips.slice(0, 10))
  const mean = slips.reduce((sum, { dxMm }) => sum + dxMm, 0) / slips.length
  const square = slips.reduce((sum, { dxMm }) => sum + dxMm ** 2, 0) / slips.length
  // Standard errors: 0.2/√20000 and 0.2/√40000; four of them.
  expect(Math.abs(mean)).toBeLessThan(0.0057)
  expect(Math.abs(Math.sqrt(square) - 0.2)).toBeLessThan(0.004)
})

test('areas by edges are those of polygons, but for corners that count twice', () => {
  const rings = rectangle(8, 5, 22, 15)
  const pair = ['colour', 'white'] as const
  const edges = sharedEdges(rings, rings, frame, 2)
  expect(edges.length.reduce((sum, mm) => sum + mm, 0)).toBeCloseTo(48, 6)
  const rule = haloRule(pair)
  for (const slip of drawSlips(toleranceOf(pair, {}), 12, 5)) {
    const motion = { ...asDrawn, ...slip, stretchX: 1 + slip.stretchX, stretchY: 1 + slip.stretchY }
    const regions = new Map<Group, Rings>([
      ['colour', rings],
      ['white', rings],
    ])
    const exact = sliversOf(regions, pair, { white: motion }, about)
    for (const halo of ['foil', 'white'] as const) {
      let area = 0
      for (let i = 0; i < edges.count; i++)
        area +=
          edges.length[i]! *
          stripWidth(rule, halo, false, edges.gap[i]!, edges.gap[i]! + slipAt(edges, i, slip, about))
      const own = exact.find(one => one.halo === halo)?.areaMm2 ?? 0
      const corner = Math.abs(slip.dxMm * slip.dyMm)
      expect(Math.abs(area - own)).toBeLessThan(0.01 * own + 1.2 * corner + 0.003)
    }
  }
})

test('outlines of a place are where the report says', async () => {
  const input = boxes({
    ink: { role: 'overprint', box: [8, 5, 22, 15] },
    white: { role: 'white', box: [8, 5, 22, 15] },
  })
  const { regions, pairs } = await registerReport(input, few)
  const place = pairs[0]!.places[0]!
  const slivers = sliversAt(regions, pairs[0]!.pair, place, frame)
  expect(slivers.map(({ halo }) => halo)).toEqual(['foil', 'white'])
  const total = slivers.reduce((sum, { areaMm2 }) => sum + areaMm2, 0)
  expect(Math.abs(total / place.areaMm2 - 1)).toBeLessThan(0.03)
})

test('quantiles are values that were drawn', () => {
  const values = Float64Array.from({ length: 100 }, (_, i) => 100 - i)
  expect(quantile(values, 0.95)).toBe(95)
  expect(quantile(values, 1)).toBe(100)
  expect(quantile(new Float64Array(0), 0.5)).toBe(0)
})
