import type { CodeKind } from '../../../core/base/code-reader.ts'
import { quietModules } from '../../../core/checks/codes/bars.ts'
import { flareLines } from '../../../core/checks/codes/flare.ts'
import { type ScanGrades, scanGrades } from '../../../core/checks/codes/grade.ts'
import {
  checkDigit,
  type RetailKind,
  retailModules,
  retailShape,
  retailWidthMm,
} from '../../../core/checks/codes/retail.ts'
import { apertureName, aperturePart } from '../../../core/checks/codes/scan.ts'
import { ofName, ofNumbers, type Quantities, type Quantity } from '../row.ts'

/** Asked for by lightest, darkest, least edge, unevenness and margin of the decoder. */
const ofScan = (value: (scan: ScanGrades) => number | readonly number[]): Quantity =>
  ofNumbers((most, least, leastEdge, nonuniformity, decodability) =>
    value(
      scanGrades({
        most: most!,
        least: least!,
        leastEdge: leastEdge!,
        nonuniformity: nonuniformity!,
        decodability: decodability!,
      }),
    ),
  )

/** Bars of retail codes, their grades by scan profile, and what flares into a reader. */
export const codes: Quantities = {
  'check digit': ([digits]) => checkDigit(String(digits)),
  'retail modules': ([kind, number]) => [...retailModules(kind as RetailKind, String(number))].map(Number),
  'retail width': ofName((kind, moduleMm) => retailWidthMm(kind as RetailKind, moduleMm!)),
  'light margins': ofName((kind, moduleMm) =>
    quietModules(kind as CodeKind).map(modules => modules * moduleMm!),
  ),
  'bar height': ofName((kind, magnification) => retailShape[kind as RetailKind].heightMm * magnification!),
  'scan grades': ofScan(({ grades, grade }) => [
    grades.symbolContrast,
    grades.modulation,
    grades.defects,
    grades.decodability,
    grade,
  ]),
  'scan numbers': ofScan(scan => [scan.symbolContrast, scan.modulation, scan.defects]),
  'scan grade': ofScan(({ grade }) => grade),
  'grade of the least edge': ofNumbers(
    leastEdge =>
      scanGrades({ most: 0.8, least: 0.05, leastEdge: leastEdge!, nonuniformity: 0, decodability: 0.7 })
        .grades.leastEdge,
  ),
  aperture: ofNumbers(moduleMm => aperturePart * moduleMm!),
  'aperture name': ofNumbers(mm => Number(apertureName(mm!))),
  'flare lines': ofNumbers(order => flareLines(order!)),
}
