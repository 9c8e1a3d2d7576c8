import { type CheckName, checkNames } from '../checks/finding.ts'
import type { ListedFinding } from '../checks/run.ts'
import { boxWords, type CheckReport, limitWords, numberWords } from './check-report.ts'

/**
 * Findings as test results in the XML that build servers read. It has no published standard; the elements are those
 * common to its readers (common practice, no source). A suite is a check, a case a finding: an error fails, a waived
 * finding is skipped, warnings and notes pass and say so in their output; a check that found nothing is one case that passed.
 */
export function junit({ jobName, list }: CheckReport): string {
  const suites = checkNames
    .map(name => ({ name, findings: list.findings.filter(one => one.check === name) }))
    .filter(({ name, findings }) => findings.length > 0 || list.ran.includes(name))
  const sum = (count: (findings: readonly ListedFinding[]) => number): number =>
    suites.reduce((all, one) => all + count(one.findings), 0)
  const head = `name="${text(jobName)}" tests="${sum(casesOf)}" failures="${sum(failures)}" errors="0" skipped="${sum(skipped)}"`
  return `<?xml version="1.0" encoding="UTF-8"?>
<testsuites ${head}>
${suites.map(suite).join('\n')}
</testsuites>
`
}

const failures = (findings: readonly ListedFinding[]): number =>
  findings.filter(one => one.waiver === null && one.severity === 'error').length
const skipped = (findings: readonly ListedFinding[]): number =>
  findings.filter(one => one.waiver !== null).length
const casesOf = (findings: readonly ListedFinding[]): number => Math.max(1, findings.length)

function suite({
  name,
  findings,
}: {
  readonly name: CheckName
  readonly findings: readonly ListedFinding[]
}): string {
  const head = `name="${name}" tests="${casesOf(findings)}" failures="${failures(findings)}" errors="0" skipped="${skipped(findings)}"`
  const cases =
    findings.length === 0
      ? [`    <testcase classname="${name}" name="nothing found"/>`]
      : findings.map(one => caseOf(name, one))
  return `  <testsuite ${head}>\n${cases.join('\n')}\n  </testsuite>`
}

function caseOf(suite: CheckName, finding: ListedFinding): string {
  const { key, severity, code, message, waiver } = finding
  const open = `    <testcase classname="${suite}" name="${text(key)}">`
  const inner =
    waiver !== null
      ? `<skipped message="${text(`waived: ${waiver.reason} (${waiver.by}, ${waiver.on})`)}"/>`
      : severity === 'error'
        ? `<failure type="${text(code)}" message="${text(message)}">${text(details(finding))}</failure>`
        : `<system-out>${text(`${severity}: ${message}\n${details(finding)}`)}</system-out>`
  return `${open}\n      ${inner}\n    </testcase>`
}

function details(finding: ListedFinding): string {
  const { where, measured, limit, fix } = finding
  return [
    where,
    boxWords(finding),
    measured === null ? '' : `measured ${numberWords(measured)}`,
    limit === null ? '' : `limit ${limitWords(limit)}`,
    fix,
  ]
    .filter(line => line !== '')
    .join('\n')
}

/** Text of an element or attribute; what XML 1.0 cannot hold is left out. */
function text(value: string): string {
  return (
    value
      // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
      .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '')
      .replace(/[&<>"\n]/g, sign => signs[sign]!)
  )
}
const signs: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\n': '&#10;',
}
