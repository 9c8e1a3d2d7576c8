import type { CheckList, ListedFinding } from '../checks/run.ts'
import type { Job } from '../job/job.ts'
import { boxWords, limitWords, numberWords } from './check-report.ts'
import { type Markup, section, table } from './report-page.ts'

/** Findings of a report, worst first, with who waived which and why. */
export function findingTable({ findings, sums }: CheckList): Markup {
  if (findings.length === 0) return { html: '<p>None.</p>' }
  const sum = table(null, [
    ['Fails', String(sums.fails)],
    ['Warnings', String(sums.warnings)],
    ['Notes', String(sums.notes)],
    ['Waived', String(sums.waived)],
  ])
  const rows = table(
    ['', 'Where', 'What', 'Measured', 'Limit', 'What to do'],
    findings.map(one => [
      findingState(one),
      [one.where, boxWords(one)].filter(part => part !== '').join(', '),
      one.message,
      one.measured === null ? '' : numberWords(one.measured),
      one.limit === null ? '' : limitWords(one.limit),
      one.fix,
    ]),
  )
  return { html: sum.html + rows.html }
}

/** What a finding counts for, or whose word it is that it may stand. */
export function findingState({ severity, waiver }: ListedFinding): string {
  if (waiver !== null) return `waived by ${waiver.by}, ${waiver.on}: ${waiver.reason}`
  return severity === 'error' ? 'fails' : severity
}

/** Limits that the job sets otherwise, with whose they are; no section where it sets none. */
export function ownLimits({ limits }: Pick<Job, 'limits'>): readonly Markup[] {
  const rows = Object.entries(limits).map(([key, { value, note }]) => [key, String(value), note])
  if (rows.length === 0) return []
  return [section(`Limits of its own (${rows.length})`, table(['Limit', 'Value', 'By'], rows))]
}
