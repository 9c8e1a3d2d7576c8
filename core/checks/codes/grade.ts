import { elementsOf, extremesOf, type ScanProfile } from './profile.ts'

/**
 * Grades of linear codes by scan reflectance profile, ISO/IEC 15416; steps as two secondary pages and a public
 * implementation have them. Between steps nothing is given away: the lower grade holds.
 */

export type Grade = 0 | 1 | 2 | 3 | 4

/** What one scan line measures; all of 0..1. */
export interface ScanNumbers {
  readonly most: number
  readonly least: number
  /** Least difference between neighbours, bar and space. */
  readonly leastEdge: number
  /** Greatest unevenness inside an element. */
  readonly nonuniformity: number
  /** Margin left to the decoder; null where the line could not be decoded. */
  readonly decodability: number | null
}

export interface ScanGrades {
  readonly symbolContrast: number
  readonly modulation: number
  readonly defects: number
  readonly decodability: number | null
  readonly grades: {
    readonly symbolContrast: Grade
    readonly modulation: Grade
    readonly defects: Grade
    readonly decodability: Grade
    readonly leastReflectance: Grade
    readonly leastEdge: Grade
  }
  /** The lowest of them. */
  readonly grade: Grade
}

/** Least values for 4, 3, 2 and 1. */
const contrastSteps = [0.7, 0.55, 0.4, 0.2] as const
const modulationSteps = [0.7, 0.6, 0.5, 0.4] as const
const decodabilitySteps = [0.62, 0.5, 0.37, 0.25] as const
/** Greatest values for 4, 3, 2 and 1. */
const defectSteps = [0.15, 0.2, 0.25, 0.3] as const
const leastEdgePass = 0.15
/** The darkest bar may be half as light as the lightest space. */
const leastReflectancePass = 0.5

/** Numbers of a scan line but for its decodability, which needs the kind of code. Null where it has no bar. */
export function scanNumbers(profile: ScanProfile, decodability: number | null): ScanNumbers | null {
  const elements = elementsOf(profile)
  if (elements.length < 3) return null
  const [least, most] = extremesOf(profile)
  let leastEdge = Number.POSITIVE_INFINITY
  for (let i = 1; i < elements.length; i++)
    leastEdge = Math.min(leastEdge, Math.abs(elements[i]!.extreme - elements[i - 1]!.extreme))
  const nonuniformity = Math.max(...elements.map(one => one.nonuniformity))
  return { most, least, leastEdge, nonuniformity, decodability }
}

/** Grades of one scan line. */
export function scanGrades(numbers: ScanNumbers): ScanGrades {
  const { most, least, leastEdge, nonuniformity, decodability } = numbers
  const symbolContrast = most - least
  const modulation = symbolContrast > 0 ? leastEdge / symbolContrast : 0
  const defects = symbolContrast > 0 ? nonuniformity / symbolContrast : 1
  const grades = {
    symbolContrast: stepped(symbolContrast, contrastSteps),
    modulation: stepped(modulation, modulationSteps),
    defects: stepped(
      -defects,
      defectSteps.map(most => -most),
    ),
    decodability: decodability === null ? 0 : stepped(decodability, decodabilitySteps),
    leastReflectance: passed(least <= leastReflectancePass * most + rounding),
    leastEdge: passed(leastEdge >= leastEdgePass - rounding),
  } as const
  const grade = Math.min(...Object.values(grades)) as Grade
  return { symbolContrast, modulation, defects, decodability, grades, grade }
}

/** Mean of the scan grades, as a report gives it. Throws RangeError where there is none. */
export function symbolGrade(scans: readonly Pick<ScanGrades, 'grade'>[]): number {
  if (scans.length === 0) throw new RangeError('symbolGrade: expected at least one scan')
  return scans.reduce((sum, { grade }) => sum + grade, 0) / scans.length
}

/** Numbers that stand on a step must not fall off it by the last bit. */
const rounding = 1e-9

function stepped(value: number, steps: readonly number[]): Grade {
  const step = steps.findIndex(least => value >= least - rounding)
  return (step < 0 ? 0 : 4 - step) as Grade
}

const passed = (good: boolean): Grade => (good ? 4 : 0)
