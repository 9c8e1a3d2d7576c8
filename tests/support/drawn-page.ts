import type {
  FillMark,
  GroupMark,
  Ink,
  Mark,
  Path,
  StrokeMark,
  TextRun,
  Tints,
} from '../../core/art/ink/mark.ts'
import type { InkPage, PageLayer } from '../../core/art/ink/page.ts'
import { pathStep } from '../../core/art/path.ts'

// Pages of inks written by hand, for what is made of them.

const plainLook = {
  clip: null,
  alpha: 1,
  blend: 'normal',
  softMask: null,
  overprint: false,
  layer: null,
} as const

/** An upright rectangle, mm. */
export function rectangle(left: number, bottom: number, right: number, top: number): Path {
  const { move, line, close } = pathStep
  return {
    steps: Uint8Array.of(move, line, line, line, close),
    points: Float64Array.of(left, bottom, right, bottom, right, top, left, top),
  }
}

/** A filled rectangle in amounts of inks by their numbers. */
export const filled = (
  box: readonly [number, number, number, number],
  tints: Readonly<Record<number, number>>,
  look: Partial<FillMark> = {},
): FillMark => ({
  ...plainLook,
  kind: 'fill',
  path: rectangle(...box),
  rule: 'nonzero',
  paint: { kind: 'tints', ...tintsOf(tints) },
  text: null,
  ...look,
})

/** A line from point to point, mm. */
export const drawnLine = (
  points: readonly (readonly [number, number])[],
  width: number,
  tints: Readonly<Record<number, number>>,
  look: Partial<StrokeMark> = {},
): StrokeMark => ({
  ...plainLook,
  kind: 'stroke',
  path: {
    steps: Uint8Array.from(points, (_, i) => (i === 0 ? pathStep.move : pathStep.line)),
    points: Float64Array.from(points.flat()),
  },
  matrix: [1, 0, 0, 1, 0, 0],
  style: { width, cap: 'butt', join: 'miter', miterLimit: 10, dash: [], dashPhase: 0 },
  paint: { kind: 'tints', ...tintsOf(tints) },
  text: null,
  ...look,
})

export const grouped = (marks: readonly Mark[], look: Partial<GroupMark> = {}): GroupMark => ({
  ...plainLook,
  kind: 'group',
  marks,
  isolated: true,
  knockout: false,
  ...look,
})

export const typed = (value: string, sizeMm = 3): TextRun => ({ value, fontName: 'Halden Sans', sizeMm })

function tintsOf(tints: Readonly<Record<number, number>>): Tints {
  const inks = Object.keys(tints).map(Number)
  return { inks, values: inks.map(ink => tints[ink]!) }
}

export const processInks: readonly Ink[] = ['Cyan', 'Magenta', 'Yellow', 'Black'].map(name => ({
  name,
  alternate: null,
  solidity: null,
  order: null,
}))

export const spotOf = (name: string, own: Partial<Ink> = {}): Ink => ({
  name,
  alternate: { space: 'CMYK', values: [0, 0, 0, 0.5] },
  solidity: null,
  order: null,
  ...own,
})

export const pageLayer = (name: string, own: Partial<PageLayer> = {}): PageLayer => ({
  id: name,
  name,
  parent: null,
  visible: true,
  prints: true,
  step: null,
  ...own,
})

/** @param what 10 × 10 mm in the process inks where nothing else is said */
export const inkPage = (what: Partial<InkPage>): InkPage => ({
  widthMm: 10,
  heightMm: 10,
  boxes: { media: [0, 0, what.widthMm ?? 10, what.heightMm ?? 10], bleed: null, trim: null, crop: null },
  inks: processInks,
  marks: [],
  layers: [],
  fonts: [],
  outputIntent: null,
  inexact: [],
  findings: [],
  ...what,
})
