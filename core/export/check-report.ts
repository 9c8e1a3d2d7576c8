import type { CheckFinding } from '../checks/finding.ts'
import type { CheckList } from '../checks/run.ts'
import type { Job } from '../job/job.ts'
import { baseName } from '../job/variants.ts'

/** What a list of findings is about. */
export interface CheckReport {
  /** File name. */
  readonly jobName: string
  /** Name of the design that was checked. */
  readonly design: string
  readonly versions: {
    readonly rakelight: string
    readonly job: number
    /** SHA-256 of the art that the job names; null for a job without art. */
    readonly art: string | null
  }
  readonly list: CheckList
}

/** @param version of the program */
export function checkReport(job: Job, jobName: string, version: string, list: CheckList): CheckReport {
  return {
    jobName,
    design: (job.variant === null ? undefined : job.variants[job.variant]?.name) ?? baseName,
    versions: { rakelight: version, job: job.version, art: job.art?.sha256 ?? null },
    list,
  }
}

/** The report as plain data for JSON. */
export function checkJson({ jobName, design, versions, list }: CheckReport): object {
  const { ran, findings, sums, unused } = list
  const waived = findings.flatMap(one => (one.waiver === null ? [] : [one.waiver]))
  return { job: jobName, design, versions, ran, sums, findings, waived, unusedWaivers: unused }
}

/** A number with its unit, at most four digits that count. */
export function numberWords({ value, unit }: { readonly value: number; readonly unit: string }): string {
  const short = Number.isFinite(value) ? String(Number(value.toPrecision(4))) : String(value)
  return `${short.replace('-', '−')}${unit === '' ? '' : ` ${unit}`}`
}

/** A limit with where it comes from: `0.4 (by a standard: …)`. */
export function limitWords(limit: NonNullable<CheckFinding['limit']>): string {
  return `${numberWords(limit)} (${statusWords[limit.status]}: ${limit.source})`
}

/** Whose a limit is, for a reader. */
export const statusWords = {
  standard: 'by a standard',
  trade: 'by a trade specification',
  memory: 'from memory, to be confirmed',
  proposed: 'proposed here',
  own: 'set in the job',
} as const satisfies Record<NonNullable<CheckFinding['limit']>['status'], string>

/** Where a finding is on the art, mm from its lower left corner; empty where it is about the whole job. */
export function boxWords({ box }: Pick<CheckFinding, 'box'>): string {
  if (box === null) return ''
  const mm = (value: number): string => value.toFixed(1).replace('-', '−')
  return `x ${mm(box.leftMm)} to ${mm(box.rightMm)} mm, y ${mm(box.bottomMm)} to ${mm(box.topMm)} mm`
}
