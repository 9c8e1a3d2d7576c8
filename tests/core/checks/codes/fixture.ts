import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import bwip from 'bwip-js/node'
import { expect } from 'vitest'
import type { Box, ColorMode } from '../../../../core/art/layer.ts'
import { openCodeReader } from '../../../../core/base/code-reader.ts'
import { codesCheck } from '../../../../core/checks/codes/check.ts'
import type { CheckFinding } from '../../../../core/checks/finding.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { Keeper } from '../../../../core/checks/keeper.ts'
import type { Assigned } from '../../../../core/roles/role.ts'
import { type GeneratedKind, generatedRuns } from '../../../support/code-tile.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'
import { type PaintedChannel, type PaintedLayer, paintedFile } from '../../painted.ts'

const wasm = fileURLToPath(
  new URL('../../../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url),
)

/** The reader that ships. */
export const openReader = () => openCodeReader(readFileSync(wasm))

/** One check for all tests of a file: its tables are made once. */
export const codes = openReader().then(codesCheck)

/** Where results are kept, a code sees no more of the map than what is around it: the findings are the same. */
export async function run(input: CheckInput): Promise<readonly CheckFinding[]> {
  const part = await codes
  const found = await part.run(input)
  expect(await part.run(new Keeper().open(input))).toEqual(found)
  return found
}
export const codesOf = async (input: CheckInput): Promise<readonly string[]> =>
  (await run(input)).map(one => one.code)

/** A square panel and its art: pixels of 0.1 mm. */
export const sideMm = 50
export const artPpi = 254
export const side = Math.round((sideMm / 25.4) * artPpi)
export const perMm = side / sideMm

/** The range of numbers that is kept for examples. */
export const example = '9521234567899'

/** A symbol on the panel: whether a place is dark, mm from the lower left corner. */
export interface CodeShape {
  readonly isDark: (x: number, y: number) => boolean
  readonly leftMm: number
  readonly bottomMm: number
  readonly widthMm: number
  readonly heightMm: number
}

interface Placed {
  readonly moduleMm?: number
  readonly leftMm?: number
  readonly bottomMm?: number
  readonly heightMm?: number
  /** Turned about its middle, counter-clockwise. */
  readonly turnDeg?: number
}

/** Bars as the generator makes them; EAN-13 at 0.3 mm a module where nothing else is said. */
export function bars(kind: GeneratedKind, text: string, placed: Placed = {}): CodeShape {
  const { moduleMm = 0.3, heightMm = 10 } = placed
  const edges = [0]
  const runs = generatedRuns(kind, text)
  // Some encoders end with a space.
  for (const run of runs.slice(0, runs.length - 1 + (runs.length % 2)))
    edges.push(edges.at(-1)! + run * moduleMm)
  const widthMm = edges.at(-1)!
  return symbol(placed, widthMm, heightMm, u => edges.findIndex(edge => edge > u) % 2 === 1)
}

/** A matrix code as the generator makes it. */
export function matrix(kind: 'Data Matrix' | 'QR', text: string, placed: Placed = {}): CodeShape {
  const { moduleMm = 0.5 } = placed
  const bcid = kind === 'QR' ? 'qrcode' : 'datamatrix'
  const [{ pixs, pixx, pixy }] = bwip.raw({ bcid, text }) as unknown as [
    { pixs: readonly number[]; pixx: number; pixy: number },
  ]
  return symbol(placed, pixx * moduleMm, pixy * moduleMm, (u, v) => {
    const [column, row] = [Math.floor(u / moduleMm), pixy - 1 - Math.floor(v / moduleMm)]
    return pixs[row * pixx + column] === 1
  })
}

/** @param inside whether a place of the symbol is dark, mm from its own lower left corner */
function symbol(
  { leftMm = 10, bottomMm = 20, turnDeg = 0 }: Placed,
  widthMm: number,
  heightMm: number,
  inside: (u: number, v: number) => boolean,
): CodeShape {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  const [x0, y0] = [leftMm + widthMm / 2, bottomMm + heightMm / 2]
  return {
    leftMm,
    bottomMm,
    widthMm,
    heightMm,
    isDark: (x, y) => {
      const u = (x - x0) * c + (y - y0) * s + widthMm / 2
      const v = -(x - x0) * s + (y - y0) * c + heightMm / 2
      return u >= 0 && v >= 0 && u < widthMm && v < heightMm && inside(u, v)
    },
  }
}

/** Middle of a pixel of the art, mm from the lower left corner. */
export const xMm = (x: number): number => (x + 0.5) / perMm
export const yMm = (y: number): number => sideMm - (y + 0.5) / perMm

export type Ink = readonly number[]
export const black: Ink = [0, 0, 0, 1]

/** A layer with a symbol on it; the ground between the bars is left open where none is given. */
export function printed(
  { isDark, leftMm, bottomMm, widthMm, heightMm }: CodeShape,
  ink: Ink = black,
  ground: Ink | null = null,
): PaintedLayer {
  const reach = Math.max(widthMm, heightMm) / 2 + 3
  const [x, y] = [leftMm + widthMm / 2, bottomMm + heightMm / 2]
  const pixel = (mm: number) => Math.min(side, Math.max(0, Math.round(mm * perMm)))
  const box: Box = {
    left: pixel(x - reach),
    right: pixel(x + reach),
    top: pixel(sideMm - y - reach),
    bottom: pixel(sideMm - y + reach),
  }
  return {
    name: 'code',
    ...(ground === null ? { box } : {}),
    paint: (column, row) => {
      const dark = isDark(xMm(column), yMm(row))
      return [...(dark || ground === null ? ink : ground), dark || ground !== null ? 1 : 0]
    },
  }
}

export const overprint = (id: string, role: Assigned['role'] = 'overprint'): Assigned => ({
  target: { kind: 'layer', id },
  role,
  reason: 'set by you',
  by: 'job',
  amount: { from: 'alpha' },
  askAmount: false,
  amountReason: '',
})

const spotInk = (id: string): Assigned => ({
  ...overprint(id, 'spotInk'),
  target: { kind: 'channel', id },
})

/** What lies at a place of the panel, mm from its lower left corner. */
export type Under = (x: number, y: number) => PaintStack

/** White board, and bare foil. */
export const board: Under = () => ({ metal: 0 })
export const foil: Under = () => ({ metal: 1 })

/** A job of these layers. @param more what else it has */
export function inputOf(
  layers: readonly PaintedLayer[],
  under: Under,
  more: Partial<CheckInput> & {
    readonly mode?: ColorMode
    readonly channels?: readonly PaintedChannel[]
    readonly plan?: Partial<PaintPlan>
  } = {},
): CheckInput {
  const { mode = 'CMYK', channels = [], plan = {}, ...rest } = more
  const painted = paintedFile({ width: side, height: side, mode, layers, channels })
  const file = { ...painted, art: { ...painted.art, resolutionPpi: artPpi } }
  const map = paintMap(
    {
      size: 250,
      sideMm,
      gratings: 1,
      whites: [{ opacity: 0.9, hits: 2 }],
      spots: [],
      varnish: false,
      ...plan,
    },
    (x, y) => under(((x + 1) * sideMm) / 2, ((y + 1) * sideMm) / 2),
  )
  return {
    art: file.art,
    file,
    assigned: [...layers.map(({ name }) => overprint(name)), ...channels.map(({ name }) => spotInk(name))],
    map,
    scene: sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 })),
    sets: [],
    blank: null,
    corners: new Map(),
    limits: {},
    ...rest,
  }
}
