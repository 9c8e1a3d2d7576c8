import { alongBars } from './along-bars.ts'
import { type BarKind, type ExpectedBars, expectedBars, quietModules, widthsOf } from './bars.ts'
import { decodability } from './decodability.ts'
import { type ScanGrades, scanGrades, scanNumbers, symbolGrade } from './grade.ts'
import { edgesOf, elementsOf } from './profile.ts'
import { apertureName, aperturePart, lineHeights, type SymbolFrame, scanAcross } from './scan.ts'
import type { Readable } from './surface.ts'
import { darknessOf, type InkTile, tilePixel } from './tile.ts'

/** A symbol of bars where it was found. */
export interface BarSymbol {
  readonly kind: BarKind
  readonly text: string
  readonly frame: SymbolFrame
  /** Light bars on dark ground. */
  readonly reversed: boolean
}

/** A symbol measured on its drawing. */
export interface DrawnSymbol extends BarSymbol {
  readonly bars: ExpectedBars
  readonly moduleMm: number
  /** Clear ground before the first bar and after the last, mm, as far as it was looked for. */
  readonly clearMm: readonly [before: number, after: number]
}

/** One scan line as a reader at one pose has it. */
export interface JudgedScan extends ScanGrades {
  /** Ground before the first bar and after the last that is light to the reader, modules. */
  readonly quiet: readonly [before: number, after: number]
}

export interface JudgedSymbol {
  readonly scans: readonly JudgedScan[]
  /** Mean of the scans' grades, 0..4. */
  readonly grade: number
  /** As reports name it: grade/aperture/light. */
  readonly report: string
  /** Part of the lines that a decoder makes the number out of. */
  readonly decoded: number
}

/** Part of the lines that a decoder has to make something of, and their least contrast: fitted to a decoder's answers. */
const decodedPart = 0.5

/** Whether a decoder is expected to read the symbol at all, whatever its grade. */
export const decodes = ({ decoded }: JudgedSymbol): boolean => decoded > decodedPart

/** Modules beside a symbol that are looked at for clear ground. */
const lookedModules = 15

/**
 * Measures a symbol on the art itself: its first and last bar, its bars, its module, the clear ground beside it. Null
 * where no bars of that kind are drawn there.
 */
export function drawnSymbol(tile: InkTile, symbol: BarSymbol): DrawnSymbol | null {
  const { kind, text, reversed } = symbol
  const surface = drawing(tile, reversed)
  // As fine as the tile is: the module is not known yet.
  const fine = 2 / tile.pixelsPerMm
  // Twice: the whole bar says its way better than the rows that the reader named.
  const frame = alongBars(surface, alongBars(surface, symbol.frame, fine), fine)
  const rough = frame.lengthMm / 80
  const around = scanAcross(surface, frame, 0.5, fine, 2 * rough, 2 * rough)
  const elements = elementsOf(around.profile)
  const edges = edgesOf(around.profile, elements)
  const first = elements[0]?.kind === 'bar' ? 1 : 0
  const last = edges.length - 1 - (elements.at(-1)?.kind === 'bar' ? 1 : 0)
  const bars = expectedBars(kind, text, around.profile)
  const widths = widthsOf(around.profile)
  if (bars === null || widths === null || widths.length !== bars.runs.length) return null
  const begins = edges[first]! * around.stepMm - around.fromMm
  const lengthMm = (edges[last]! - edges[first]!) * around.stepMm
  const moduleMm = lengthMm / bars.modules
  const { start, across } = frame
  const exact: SymbolFrame = {
    ...frame,
    start: [start[0] + across[0] * begins, start[1] + across[1] * begins],
    lengthMm,
  }
  const look = lookedModules * moduleMm
  const clear = lineHeights.map(height => {
    const line = scanAcross(surface, exact, height, moduleMm, look, look)
    return clearBeside(line.profile, line.stepMm, look, lengthMm)
  })
  const least = (side: 0 | 1) => Math.min(...clear.map(one => one[side]))
  return { ...symbol, frame: exact, bars, moduleMm, clearMm: [least(0), least(1)] }
}

/** Grades a symbol on what a reader sees of it, through a round aperture. @param heights of the lines, from above; ten of the standard */
export function judgeBars(
  surface: Readable,
  symbol: DrawnSymbol,
  heights: readonly number[] = lineHeights,
): JudgedSymbol {
  const { kind, frame, moduleMm, bars, clearMm } = symbol
  // What is drawn in the margin is told of on its own; the scan ends before it, as a reader finds the symbol's ends.
  const [left, right] = quietModules(kind)
  const before = Math.min(left * moduleMm, Math.max(moduleMm, clearMm[0] - moduleMm / 2))
  const after = Math.min(right * moduleMm, Math.max(moduleMm, clearMm[1] - moduleMm / 2))
  const scans = heights.map((height): JudgedScan => {
    const { profile, stepMm } = scanAcross(surface, frame, height, moduleMm, before, after)
    const widths = widthsOf(profile)
    const margin = widths === null ? null : decodability(bars, widths)
    const numbers = scanNumbers(profile, margin)
    const grades = scanGrades(
      numbers ?? { most: 0, least: 0, leastEdge: 0, nonuniformity: 0, decodability: null },
    )
    const quiet = clearBeside(profile, stepMm, before, frame.lengthMm).map(mm => mm / moduleMm)
    return { ...grades, quiet: [quiet[0]!, quiet[1]!] }
  })
  const grade = symbolGrade(scans)
  return {
    scans,
    grade,
    report: `${grade.toFixed(1)}/${apertureName(aperturePart * moduleMm)}/660`,
    decoded: scans.filter(scan => scan.decodability !== null).length / scans.length,
  }
}

/** Light ground on both sides of the symbol, mm, from its first and last bar outwards. */
function clearBeside(
  profile: ArrayLike<number>,
  stepMm: number,
  beforeMm: number,
  lengthMm: number,
): readonly [before: number, after: number] {
  const elements = elementsOf(profile)
  const edges = edgesOf(profile, elements)
  const from = beforeMm / stepMm
  const to = (beforeMm + lengthMm) / stepMm
  // The edge nearest to where the symbol begins is its own; the one before it ends the ground.
  const begins = nearest(edges, from)
  const ends = nearest(edges, to)
  if (begins < 0 || ends < 0) return [0, 0]
  const before = (edges[begins]! - (edges[begins - 1] ?? 0)) * stepMm
  const after = ((edges[ends + 1] ?? profile.length - 1) - edges[ends]!) * stepMm
  return [before, after]
}

function nearest(edges: readonly number[], place: number): number {
  let best = -1
  for (let i = 0; i < edges.length; i++)
    if (best < 0 || Math.abs(edges[i]! - place) < Math.abs(edges[best]! - place)) best = i
  return best
}

/** The art as paper would show it, 1 = no ink; turned over where light bars are printed round. */
function drawing(tile: InkTile, reversed: boolean): Readable {
  return {
    at: (x, y) => {
      const pixel = tilePixel(tile, x, y)
      const darkness = pixel < 0 ? 1 : darknessOf(tile, pixel)
      return reversed ? darkness : 1 - darkness
    },
  }
}
