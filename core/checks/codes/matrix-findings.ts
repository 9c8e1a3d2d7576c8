import { quietModules } from './bars.ts'
import type { FoundCode } from './find.ts'
import { flareFinding } from './flare-finding.ts'
import { contrastFinding, moreWhite } from './grade-findings.ts'
import { ReaderLight } from './light.ts'
import { type JudgedMatrix, judgeMatrix } from './matrix.ts'
import { type DrawnMatrix, drawnMatrix, type Modules } from './matrix-drawn.ts'
import { boxAround, cornersOf } from './place.ts'
import { placeFindings } from './place-findings.ts'
import { quietFinding } from './quiet-finding.ts'
import { sourceFindings } from './size-findings.ts'
import { type Readable, ReaderSurface } from './surface.ts'
import { tiltFinding } from './tilt-finding.ts'
import type { CodeGround, LimitOf, Told } from './told.ts'
import { type CodeWhite, codeWhite, onFoilFinding, whiteFindings } from './white-findings.ts'

/** All that is to be said of a matrix code. */
export function matrixFindings(
  ground: CodeGround,
  { kind, frame, reversed }: FoundCode,
  modules: Modules,
): readonly Told[] {
  const { input, tables, tile, limits } = ground
  const [quiet] = quietModules(kind)
  const drawn = drawnMatrix(tile, frame, modules, quiet, reversed)
  const { moduleMm } = drawn
  const margin = quiet * moduleMm
  const round = [margin, margin, margin, margin] as const
  const core = boxAround(cornersOf(drawn.frame, round))
  const along = Math.atan2(drawn.frame.down[1], drawn.frame.down[0])
  const ruling = limits('codes.screen-ruling').value / 10
  const surface = new ReaderSurface(input.map, tile, new ReaderLight(tables, 'ring', 0), ruling)
  const judgedOn = (seen: Readable) => judgeMatrix(seen, drawn, modules, quiet, reversed)
  const judged = judgedOn(surface)
  const white = codeWhite(ground, core)
  const graded = gradeFindings(drawn, judged, white, limits)
  const onFoil = graded.some(({ code }) => code === 'code-on-foil')
  return [
    ...sourceFindings(tile),
    ...sizeFinding(drawn, limits),
    ...quietFinding(
      (['on its left', 'on its right', 'above it', 'below it'] as const).map((where, i) => ({
        where,
        clearMm: drawn.clearMm[i]!,
        modules: quiet,
      })),
      moduleMm,
    ),
    ...placeFindings(input, drawn.frame, round, limits),
    ...(reversed ? [lightModules(kind)] : []),
    ...graded,
    ...(onFoil ? [] : whiteFindings(white)),
    // The worst module decides: one that reads wrong is a code that is lost, whatever would be mended of it.
    ...(judged.grade > 0
      ? tiltFinding(ground, [along, along + Math.PI / 2], seen => judgedOn(seen).grade > 0)
      : []),
    ...flareFinding(ground, core),
  ]
}

function sizeFinding({ moduleMm }: DrawnMatrix, limits: LimitOf): readonly Told[] {
  const limit = limits('codes.matrix-module')
  if (moduleMm >= limit.value - 0.001) return []
  return [
    {
      severity: 'warning',
      code: 'code-size',
      message: `its modules are ${moduleMm.toFixed(3)} mm wide; below ${limit.value} mm not every reader resolves them`,
      fix: 'Make it larger, as one with its light margins.',
      measured: { value: moduleMm, unit: 'mm' },
      limit,
    },
  ]
}

function gradeFindings(
  { moduleMm }: DrawnMatrix,
  { grade, report, symbolContrast, modulation }: JudgedMatrix,
  white: CodeWhite,
  limits: LimitOf,
): readonly Told[] {
  const [least, wanted] = [limits('codes.grade'), limits('codes.grade-wanted')]
  const measured = { value: grade, unit: '' }
  const numbers = `estimated grade ${report} by contrast and modulation alone; contrast ${symbolContrast.toFixed(2)}, modulation of the worst module ${modulation.toFixed(2)}, module ${moduleMm.toFixed(3)} mm`
  if (grade < least.value && white.bare) return [onFoilFinding(white, numbers, measured, least)]
  if (grade < least.value)
    return [
      {
        severity: 'error',
        code: 'code-grade',
        message: `it will not scan as it should: ${numbers}`,
        fix: moreWhite(white),
        measured,
        limit: least,
      },
    ]
  const low = grade < wanted.value
  return [
    {
      severity: low ? 'warning' : 'note',
      code: 'code-grade',
      message: numbers,
      fix: low
        ? 'Keep more in hand for the press: more opaque white, larger modules, or modules in full black.'
        : 'Nothing; have the printed code verified.',
      measured,
      limit: wanted,
    },
    ...contrastFinding(symbolContrast, limits),
  ]
}

/** Standards of the kinds of matrix codes; both have light modules on dark ground as an option. From memory. */
const standards: Readonly<Record<string, string>> = {
  'Data Matrix': 'ISO/IEC 16022',
  QR: 'ISO/IEC 18004',
}

const lightModules = (kind: FoundCode['kind']): Told => ({
  severity: 'warning',
  code: 'code-reversed',
  message: `it is light on dark: ${standards[kind]} allows that as an option, which not every reader takes`,
  fix: 'Print it dark on a light ground, or try it with the readers that it is for.',
})
