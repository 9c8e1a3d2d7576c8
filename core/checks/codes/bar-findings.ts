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
import { pressFinding } from './press-finding.ts'
import { quietFinding } from './quiet-finding.ts'
import { retailShape } from './retail.ts'
import { lineHeights } from './scan.ts'
import { sizeFindings, sourceFindings } from './size-findings.ts'
import { ReaderSurface } from './surface.ts'
import { tiltFinding } from './tilt-finding.ts'
import type { CodeGround, LimitOf, Told } from './told.ts'
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
  const drawn: Told[] = [
    ...sourceFindings(tile),
    ...sizeFindings(symbol, limits),
    ...quietFinding(margins, moduleMm),
    ...placeFindings(input, symbol.frame, [...sides, 0, 0], limits),
  ]
  const along = Math.atan2(symbol.frame.down[1], symbol.frame.down[0])
  drawn.push(...pressFinding(along, limits))
  if (reversed) return [...drawn, lightBars(symbol.kind, limits)]
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
    ...(decodes(judged)
      ? tiltFinding(ground, [along], leaning => decodes(judgeBars(leaning, symbol, fewLines)))
      : []),
    ...flareFinding(ground, core),
  ]
}

const notMeasured = (ppi: number): Told => ({
  severity: 'warning',
  code: 'code-not-measured',
  message: `its bars cannot be measured at ${Math.round(ppi)} pixels an inch of the art`,
  fix: 'Place the code as outlines, or at 1200 pixels an inch or more, in one layer of the print.',
})

/** Lines that are enough to see whether it reads at all. */
const fewLines = [lineHeights[1]!, lineHeights[4]!, lineHeights[8]!]

/** Standards of the kinds of bars. None of them has light bars on dark ground: nothing is decoded of them. From memory. */
const standards: Readonly<Record<BarKind, string>> = {
  'EAN-13': 'ISO/IEC 15420',
  'EAN-8': 'ISO/IEC 15420',
  'UPC-A': 'ISO/IEC 15420',
  'UPC-E': 'ISO/IEC 15420',
  ITF: 'ISO/IEC 16390',
  'Code 128': 'ISO/IEC 15417',
}

const lightBars = (kind: BarKind, limits: LimitOf): Told => ({
  severity: 'error',
  code: 'code-reversed',
  message: `its bars are lighter than the ground between them, which ${standards[kind]} does not allow: its grade is 0`,
  fix: 'Print dark bars on a light ground.',
  measured: { value: 0, unit: '' },
  limit: limits('codes.grade'),
})
