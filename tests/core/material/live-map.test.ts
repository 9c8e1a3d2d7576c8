import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ArtFile } from '../../../core/art/layer.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import type { EffectSpec } from '../../../core/effects/effect.ts'
import type { Follow } from '../../../core/effects/follow.ts'
import type { EffectTarget, Outline } from '../../../core/effects/outline.ts'
import type { Register } from '../../../core/effects/register.ts'
import { buildMap, type MapOptions } from '../../../core/material/build.ts'
import { applyChange, changeOf } from '../../../core/material/change.ts'
import { dirtySince } from '../../../core/material/edition.ts'
import { LiveMap } from '../../../core/material/live-map.ts'
import type { MapPlane, MaterialMap, PlaneData } from '../../../core/material/map.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { assignLooking } from '../../../core/roles/suggest.ts'
import { type PaintedLayer, paintedFile } from '../painted.ts'

const root = new URL('../../../', import.meta.url)
const press = {
  engine: await openColorEngine(),
  profile: new Uint8Array(readFileSync(new URL('core/data/icc/ISOcoated_v2_300_bas.icc', root))),
}

const width = 150
const height = 136
const panel = { widthMm: 75, heightMm: 68 }

/** Rings beside a comet that shades off, lines across both, a plate of white and printed artwork. */
const layers: readonly PaintedLayer[] = [
  { name: 'Lens rings', paint: (x, y) => [0, 0, 0, 1, Math.hypot(x - 40, y - 60) < 34 ? 1 : 0] },
  {
    name: 'Comet',
    paint: (x, y) => [x / width, 0.3, y / height, 0, Math.max(0, 1 - Math.hypot(x - 90, y - 70) / 40)],
  },
  { name: 'Lines', paint: (x, y) => [0, 0, 0, 0.5, y > 50 && y < 80 && x % 7 < 3 ? 0.7 : 0] },
  { name: 'White', paint: x => [0, 0, 0, 0, x > 100 ? 0.8 : 0] },
  { name: 'Chart', paint: (x, y) => [(x % 30) / 30, 0, (y % 20) / 20, 0, 0.9] },
]
const holographic = ['Lens rings', 'Comet', 'Lines'] as const
const file = paintedFile({ width, height, layers })
const assigned = await assignLooking(file, {
  aliases: [],
  choices: [
    ...holographic.map(id => ({
      target: { kind: 'layer' as const, id },
      role: 'holography' as const,
      amount: { from: 'alpha' as const },
    })),
    { target: { kind: 'layer', id: 'White' }, role: 'white', amount: { from: 'alpha' } },
    { target: { kind: 'layer', id: 'Chart' }, role: 'overprint', amount: null },
  ],
})

/** Everything of a job that is edited here. */
interface Edited {
  readonly effects: readonly (readonly [id: string, effect: EffectSpec | null])[]
  readonly outlines: readonly Outline[]
  readonly white: {
    readonly opacity: number
    readonly hits: number
    readonly mottle: number
    readonly toneGain: number
  }
}

const start: Edited = {
  effects: [
    ['Lens rings', { kind: 'concentric', parameters: { pitchNm: 1050 } }],
    ['Comet', { kind: 'plain', parameters: { pitchNm: 900, azimuthDeg: 20 } }],
    ['Lines', null],
  ],
  outlines: [],
  white: { opacity: 0.5, hits: 1, mottle: 0, toneGain: 0 },
}

function optionsOf({ effects, outlines, white }: Edited, resolutionPpi: number): MapOptions {
  const chosen = effects.flatMap(([id, effect]) => {
    const target: EffectTarget = { kind: outlines.some(one => one.id === id) ? 'outline' : 'layer', id }
    return effect ? [{ target, effect }] : []
  })
  return {
    panel: { ...panel, resolutionPpi },
    effects: chosen,
    outlines,
    whites: [
      {
        target: { kind: 'layer', id: 'White' },
        ...white,
        opacity: { from: 'contrast', value: white.opacity },
      },
    ],
    assigned,
    press,
  }
}

const kind: fc.Arbitrary<EffectSpec> = fc.oneof(
  fc.record({
    kind: fc.constant('plain'),
    parameters: fc.record({
      pitchNm: fc.integer({ min: 700, max: 1500 }),
      azimuthDeg: fc.integer({ min: 0, max: 179 }),
      grooveDepthNm: fc.integer({ min: 30, max: 150 }),
      sharePercent: fc.integer({ min: 10, max: 100 }),
    }),
  }),
  fc.record(
    {
      kind: fc.constantFrom('concentric', 'radial'),
      parameters: fc.record({ pitchNm: fc.integer({ min: 700, max: 1500 }) }),
      follow: fc.constantFrom<Follow>(
        { what: 'share', from: 'own', gain: 0.7 },
        { what: 'depth', from: { layerId: 'Chart' }, gain: -0.5 },
      ),
      register: fc.constant<Register>({
        mode: 'continuous',
        repeatMm: 12,
        seamMm: 1,
        directionDeg: 30,
        sheet: 3,
      }),
    },
    { requiredKeys: ['kind', 'parameters'] },
  ),
  fc.record({
    kind: fc.constantFrom('crossed', 'mosaic', 'brushed', 'matte', 'lens', 'wave'),
    parameters: fc.constant({}),
  }),
  fc.constant({
    kind: 'coded',
    parameters: {
      code: 'hue',
      gives: 'azimuth',
      pitchNm: 1700,
      stops: [
        { at: 0, value: 10 },
        { at: 1, value: 120 },
      ],
    },
  }),
  fc.record({
    kind: fc.constant('switch'),
    parameters: fc.record({
      secondLayerId: fc.constantFrom('Lines', 'Chart'),
      fanDeg: fc.integer({ min: 4, max: 16 }),
    }),
  }),
  fc.record({
    kind: fc.constant('highlight'),
    parameters: fc.record({
      curve: fc.constant('outline'),
      outlineId: fc.constantFrom('drawn 1', 'drawn 2'),
    }),
  }),
  fc.constant({ kind: 'of a later version', parameters: {} }),
)

type Step = (before: Edited) => Edited
const setEffect =
  (id: string, effect: EffectSpec | null): Step =>
  before => ({
    ...before,
    effects: [...before.effects.filter(([other]) => other !== id), [id, effect]],
  })
const setOutline =
  (id: string, at: readonly [number, number], side: number, effect: EffectSpec): Step =>
  before => {
    const [x, y] = at
    const ring = [
      [x, y],
      [x + side, y],
      [x + side / 2, y + side],
    ] as const
    const outlines = [...before.outlines.filter(one => one.id !== id), { id, name: id, rings: [ring] }]
    return setEffect(id, effect)({ ...before, outlines })
  }
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .tuple(fc.constantFrom(...holographic), fc.option(kind))
      .map(([id, effect]) => setEffect(id, effect)),
  },
  {
    weight: 3,
    arbitrary: fc
      .tuple(
        fc.constantFrom('drawn 1', 'drawn 2'),
        fc.tuple(fc.integer({ min: -10, max: 70 }), fc.integer({ min: -10, max: 60 })),
        fc.integer({ min: 3, max: 40 }),
        kind,
      )
      .map(([id, at, side, effect]) => setOutline(id, at, side, effect)),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom('drawn 1', 'drawn 2').map(
      (id): Step =>
        before => ({
          ...before,
          outlines: before.outlines.filter(one => one.id !== id),
          effects: before.effects.filter(([other]) => other !== id),
        }),
    ),
  },
  {
    weight: 1,
    arbitrary: fc
      .record({
        opacity: fc.double({ min: 0.2, max: 0.95, noNaN: true }),
        hits: fc.integer({ min: 1, max: 3 }),
        mottle: fc.constantFrom(0, 0, 0, 0.1),
        toneGain: fc.constantFrom(0, 0, 0, 0.1),
      })
      .map(
        (white): Step =>
          before => ({ ...before, white }),
      ),
  },
)

/** A plane tile by tile, whatever order its blocks lie in; a tile that is not there is empty. */
function tilesOf(plane: MapPlane): readonly PlaneData[] {
  if (plane.layout === 'full') return [plane.data]
  const { index, data, tile, components } = plane
  const size = tile * tile * components
  return [...index].map(block =>
    block < 0 ? data.subarray(0, 0) : data.subarray(block * size, (block + 1) * size),
  )
}

function samePlane(a: MapPlane, b: MapPlane): boolean {
  const [one, other] = [tilesOf(a), tilesOf(b)]
  const bytes = (data: PlaneData) => Buffer.from(data.buffer, data.byteOffset, data.byteLength)
  return (
    a.layout === b.layout &&
    a.components === b.components &&
    a.data.constructor === b.data.constructor &&
    one.length === other.length &&
    one.every((data, i) => bytes(data).equals(bytes(other[i]!)))
  )
}

function expectSame(levels: readonly MaterialMap[], wanted: readonly MaterialMap[]): void {
  expect(levels).toHaveLength(wanted.length)
  levels.forEach((map, level) => {
    const { planes, ...head } = map
    const { planes: wantedPlanes, ...wantedHead } = wanted[level]!
    expect(head).toEqual(wantedHead)
    expect([...planes.keys()].sort()).toEqual([...wantedPlanes.keys()].sort())
    const differ = [...planes].filter(([name, plane]) => !samePlane(plane, wantedPlanes.get(name)!))
    expect(
      differ.map(([name]) => name),
      `level ${level}`,
    ).toEqual([])
  })
}

/** A copy as another thread has it. */
const sent = <T>(value: T): T => structuredClone(value)

async function whole(of: ArtFile, options: MapOptions) {
  const { map, findings } = await buildMap(of, options)
  return { levels: pyramid(map), findings }
}

describe('a map that follows a job', () => {
  // 50.8 ppi: a pixel of art each; 36: parts of several; 80: finer than the art.
  for (const ppi of [50.8, 36, 80])
    it(`is that of a whole build after any edits and their undoing, at ${ppi} ppi, here and where only changes came`, async () => {
      await fc.assert(
        fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 4 }), async steps => {
          let live = await LiveMap.build(file, optionsOf(start, ppi))
          let shown = sent(live.levels)
          const states = [start]
          for (const one of steps) states.push(one(states.at(-1)!))
          for (const state of [...states.slice(1), ...states.toReversed().slice(1)]) {
            const options = optionsOf(state, ppi)
            const before = live.levels
            const print = before[0]!.print
            if (await live.edit(options)) {
              const dirty = dirtySince(before, live.levels)
              expect(dirty).not.toBeNull()
              shown = applyChange(shown, sent(changeOf(live.levels, dirty!, print)))
            } else {
              live = await LiveMap.build(file, options)
              shown = sent(live.levels)
            }
            const wanted = await whole(file, options)
            expectSame(live.levels, wanted.levels)
            expectSame(shown, wanted.levels)
            expect(live.findings).toEqual(wanted.findings)
          }
        }),
        { numRuns: 6 },
      )
    }, 300_000)
})
