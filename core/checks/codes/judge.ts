import { quietModules, widthsOf } from './bars.ts'
import { clearBeside } from './clear-beside.ts'
import { decodability } from './decodability.ts'
import type { DrawnSymbol } from './drawn-symbol.ts'
import { type ScanGrades, scanGrades, scanNumbers, symbolGrade } from './grade.ts'
import { readable } from './readable.ts'
import { apertureName, aperturePart, lineHeights, scanAcross } from './scan.ts'
import type { Readable } from './surface.ts'

/** One scan line as a reader at one pose has it. */
export interface JudgedScan extends ScanGrades {
  /** Ground before the first bar and after the last that is light to the reader, modules. */
  readonly quiet: readonly [before: number, after: number]
  /** Whether a decoder is expected to make the number out of it. */
  readonly readable: boolean
}

export interface JudgedSymbol {
  readonly scans: readonly JudgedScan[]
  /** Mean of the scans' grades, 0..4. */
  readonly grade: number
  /** As reports name it: grade/aperture/light. */
  readonly report: string
  /** Part of the lines that a decoder is expected to make the number out of. */
  readonly decoded: number
}

/** Whether a decoder is expected to read the symbol at all, whatever its grade: most lines, fitted to what one reads. */
export const decodes = ({ decoded }: JudgedSymbol): boolean => decoded >= 0.5

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
    const line = scanAcross(surface, frame, height, moduleMm, before, after)
    const { profile, stepMm } = line
    const widths = widthsOf(profile)
    const margin = widths === null ? null : decodability(bars, widths)
    const numbers = scanNumbers(profile, margin)
    const grades = scanGrades(
      numbers ?? { most: 0, least: 0, leastEdge: 0, nonuniformity: 0, decodability: null },
    )
    const quiet = clearBeside(profile, stepMm, before, frame.lengthMm).map(mm => mm / moduleMm)
    return { ...grades, quiet: [quiet[0]!, quiet[1]!], readable: readable(line, symbol) }
  })
  const grade = symbolGrade(scans)
  return {
    scans,
    grade,
    report: `${grade.toFixed(1)}/${apertureName(aperturePart * moduleMm)}/660`,
    decoded: scans.filter(scan => scan.readable).length / scans.length,
  }
}
