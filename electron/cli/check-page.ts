import type { CheckFinding } from '../../core/checks/finding.ts'
import { type AppliedLimit, applied, type Limit, type OwnLimits } from '../../core/checks/limits.ts'
import type { ListedFinding } from '../../core/checks/run.ts'
import { boxWords, type CheckReport, numberWords, statusWords } from '../../core/export/check-report.ts'
import { counted, table } from './table.ts'

/** A list of findings for a terminal: what and where by severity, then what to do about each. */
export function checkPage({ jobName, design, list }: CheckReport): string {
  const { sums, findings, unused } = list
  const head = [
    `${printable(jobName)}, design ${printable(design)}`,
    `  ${counted(sums.fails, 'fails', 'fail')}, ${counted(sums.warnings, 'warning')}, ${counted(sums.notes, 'note')}, ${sums.waived} waived`,
  ].join('\n')
  const gone = unused.map(
    ({ key, by }) => `  The waiver of "${printable(key)}" by ${printable(by)} is not needed any more.`,
  )
  return [
    head,
    findings.length === 0 ? 'Nothing to report.' : '',
    findingTable(findings),
    findings.map(todo).join('\n'),
    gone.join('\n'),
  ]
    .filter(part => part !== '')
    .join('\n\n')
}

function findingTable(findings: readonly ListedFinding[]): string {
  if (findings.length === 0) return ''
  const rows = findings.map((one, i) => [
    String(i + 1),
    one.waiver === null ? levels[one.severity] : 'waived',
    one.check,
    printable(one.where),
    one.measured === null ? '' : numberWords(one.measured),
    one.limit === null ? '' : numberWords(one.limit),
  ])
  return table(
    [['', '', 'Check', 'Where', 'Measured', 'Limit'], ...rows],
    ['right', 'left', 'left', 'left', 'right', 'right'],
    2,
  )
}

const levels = { error: 'fails', warning: 'warning', note: 'note' } as const satisfies Record<
  CheckFinding['severity'],
  string
>

function todo(finding: ListedFinding, i: number): string {
  const { message, fix, limit, waiver } = finding
  const place = boxWords(finding)
  const lines = [
    printable(message),
    ...(place === '' ? [] : [`At ${place}.`]),
    ...(limit === null
      ? []
      : [`Limit ${limit.key}, ${statusWords[limit.status]}: ${printable(limit.source)}`]),
    printable(fix),
    ...(waiver === null
      ? []
      : [`Waived by ${printable(waiver.by)} on ${waiver.on}: ${printable(waiver.reason)}`]),
  ]
  return lines.map((line, at) => `  ${(at === 0 ? `${i + 1}.` : '').padEnd(4)}${line}`).join('\n')
}

/** A limit as a job has it. */
export interface ShownLimit extends AppliedLimit {
  readonly name: string
  readonly says: string
  readonly usual: number
  readonly range: readonly [least: number, most: number]
}

/** Every limit as a job applies it; those that it sets and nobody knows come last. */
export function limitList(
  known: Readonly<Record<string, Limit>>,
  own: OwnLimits,
): { readonly limits: readonly ShownLimit[]; readonly unknown: readonly string[] } {
  const limits = Object.entries(known).map(([key, limit]) => {
    const { name, says, usual, range } = limit
    return { ...applied(key, limit, own), name, says, usual, range }
  })
  return { limits, unknown: Object.keys(own).filter(key => !Object.hasOwn(known, key)) }
}

export function limitPage({ limits, unknown }: ReturnType<typeof limitList>): string {
  const rows = limits.map(one => [
    one.key,
    printable(one.name),
    numberWords(one),
    statusWords[one.status],
    printable(one.source),
  ])
  const list = table(
    [['Limit', 'What for', 'Value', 'Status', 'Source'], ...rows],
    ['left', 'left', 'right', 'left', 'left'],
    2,
  )
  const others = unknown.map(key => `  The job sets "${printable(key)}", which no check of this version has.`)
  return [counted(limits.length, 'limit'), list, ...others].join('\n')
}

/** A name as one line of a terminal, which must not obey it. */
function printable(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return name.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
}
