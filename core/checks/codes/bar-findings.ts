import { barInks } from './bar-inks.ts'
import { type BarKind, quietModules } from './bars.ts'
import { drawnSymbol } from './drawn-symbol.ts'
import type { FoundCode } from './find.ts'
import { flareFinding } from './flare-finding.ts'
import { gradeFindings } from './grade-findings.ts'
import { inkFindings } from './ink-findings.ts'
import { decodes, judgeBars } from './judge.ts'
import { ReaderLight } from './light.ts'
import { textModules } from './patch.ts'
import { boxAround, cornersOf } from './place.ts'
import { placeFindings } from './place-findings.ts'
import { quietFinding } from './quiet-finding.ts'
import { retailShape } from './retail.ts'
import { sizeFindings, sourceFindings } from './size-findings.ts'
import { ReaderSurface } from './surface.ts'
import { tiltFinding } from './tilt-finding.ts'
import type { CodeGround, Told } from './told.ts'
import { codeWhite, whiteFindings } from './white-findings.ts'

/** All that is to be said of a code of bars. */
export function barFindings(ground: CodeGround, { kind, text, frame, reversed }: FoundCode): readonly Told[] {
  const { input, tables, tile, limits } = ground
  const symbol = drawnSymbol(tile, { kind: kind as BarKind, text, frame, reversed })
  if (symbol === null) return [notMeasured(tile.ppi)]
  const { moduleMm, clearMm } = symbol
  const [left, right] = quietModules(kind)
  const sides = [left * moduleMm, right * moduleMm] as const
  const margins = [
    { where: 'before the first bar', clearMm: clearMm[0], modules: left },
    { where: 'after the last bar', clearMm: clearMm[1], modules: right },
  ]
  const drawn = [
    ...sourceFindings(tile),
    ...sizeFindings(symbol, limits),
    ...quietFinding(margins, moduleMm),
    ...placeFindings(input, symbol.frame, [...sides, 0, 0], limits),
  ]
  if (reversed) return [...drawn, lightBars]
  const along = Math.atan2(symbol.frame.down[1], symbol.frame.down[0])
  const ruling = limits('codes.screen-ruling').value / 10
  const seen = new ReaderSurface(input.map, tile, new ReaderLight(tables, 'along', along), ruling)
  let judged = judgeBars(seen, symbol)
  // Only grooves tell light along the bars from light all round.
  if (seen.grooved) {
    const ring = new ReaderLight(tables, 'ring', along)
    const other = judgeBars(new ReaderSurface(input.map, tile, ring, ruling), symbol)
    if (other.grade < judged.grade) judged = other
  }
  const bars = barInks(tile, seen, symbol, input.map)
  const below = kind in retailShape ? textModules * moduleMm : 0
  const core = boxAround(cornersOf(symbol.frame, [...sides, 0, below]))
  const white = codeWhite(ground, core)
  const graded = gradeFindings(symbol, judged, bars, white, limits)
  const onFoil = graded.some(({ code }) => code === 'code-on-foil')
  return [
    ...drawn,
    ...inkFindings(bars),
    ...graded,
    ...(onFoil ? [] : whiteFindings(white)),
    ...(decodes(judged) ? tiltFinding(ground, symbol, along) : []),
    ...flareFinding(ground, core),
  ]
}

const notMeasured = (ppi: number): Told => ({
  severity: 'warning',
  code: 'code-not-measured',
  message: `its bars cannot be measured at ${Math.round(ppi)} pixels an inch of the art`,
  fix: 'Place the code as outlines, or at 1200 pixels an inch or more, in one layer of the print.',
})

const lightBars: Told = {
  severity: 'error',
  code: 'code-reversed',
  message: 'its bars are lighter than the ground between them, which shop readers do not read',
  fix: 'Print dark bars on a light ground.',
}
