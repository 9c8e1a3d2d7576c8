import type { BarInks } from './bar-inks.ts'
import type { DrawnSymbol } from './drawn-symbol.ts'
import { lightInRed } from './ink-findings.ts'
import type { JudgedSymbol } from './judge.ts'
import type { LimitOf, Told } from './told.ts'
import { type CodeWhite, onFoilFinding } from './white-findings.ts'

/** What a reader makes of the bars, on what they stand. */
export function gradeFindings(
  { moduleMm }: DrawnSymbol,
  judged: JudgedSymbol,
  bars: BarInks,
  white: CodeWhite,
  limits: LimitOf,
): readonly Told[] {
  const [least, wanted] = [limits('codes.grade'), limits('codes.grade-wanted')]
  const contrast = Math.min(...judged.scans.map(scan => scan.symbolContrast))
  const measured = { value: judged.grade, unit: '' }
  const numbers = `estimated grade ${judged.report}; contrast ${contrast.toFixed(2)}, narrowest bar ${moduleMm.toFixed(3)} mm`
  if (judged.grade < least.value && white.bare) return [onFoilFinding(white, numbers, measured, least)]
  // That is told of by the ink.
  if (lightInRed(bars) && !white.bare) return []
  if (judged.grade < least.value)
    return [
      {
        severity: 'error',
        code: 'code-grade',
        message: `it will not scan as it should: ${numbers}; worst in ${worstOf(judged)}`,
        fix: moreWhite(white),
        measured,
        limit: least,
      },
    ]
  const low = judged.grade < wanted.value
  return [
    {
      severity: low ? 'warning' : 'note',
      code: 'code-grade',
      message: `${numbers}; lowest in ${worstOf(judged)}`,
      fix: low
        ? 'Keep more in hand for the press: more opaque white, a larger code, or bars in full black.'
        : 'Nothing; have the printed code verified.',
      measured,
      limit: wanted,
    },
    ...contrastFinding(contrast, limits),
  ]
}

/** A contrast that passes, with nothing in hand. */
export function contrastFinding(contrast: number, limits: LimitOf): readonly Told[] {
  const limit = limits('codes.contrast')
  if (contrast >= limit.value) return []
  return [
    {
      severity: 'warning',
      code: 'code-contrast',
      message: `its contrast at 660 nm is ${contrast.toFixed(2)}`,
      fix: 'Use a more opaque white beneath, or a darker ink for the bars.',
      measured: { value: contrast, unit: '' },
      limit,
    },
  ]
}

export const moreWhite = ({ patch: { opacity } }: CodeWhite): string =>
  opacity === null
    ? 'Look at the ink of the code, its ground and its edges.'
    : `Use a more opaque white (${Math.round(100 * opacity)} % as measured now) or another hit of it, solid and without screen.`

/** The parameter that holds most lines down. */
function worstOf({ scans }: JudgedSymbol): string {
  const sums = new Map<string, number>()
  for (const { grades } of scans)
    for (const [name, grade] of Object.entries(grades)) sums.set(name, (sums.get(name) ?? 0) + grade)
  const [name] = [...sums].reduce((least, one) => (one[1] < least[1] ? one : least))
  return words[name as keyof typeof words]
}

const words = {
  symbolContrast: 'contrast',
  modulation: 'modulation (narrow bars and spaces against wide ones)',
  defects: 'defects (holes and specks)',
  decodability: 'decodability (widths of the bars)',
  leastReflectance: 'bars that are too light',
  leastEdge: 'edges that are too weak',
} as const
