import type { ListedFinding } from '../checks/run.ts'
import type { CheckReport } from './check-report.ts'

/**
 * Findings as a log of the Static Analysis Results Interchange Format, version 2.1.0, OASIS Standard (2020). A waiver is
 * an accepted suppression; place, number and limit stand in the property bag of each result.
 */
export function sarif({ jobName, design, versions, list }: CheckReport): string {
  const codes = [...new Set(list.findings.map(one => one.code))].sort()
  const log = {
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'rakelight',
            version: versions.rakelight,
            rules: codes.map(id => ({ id })),
          },
        },
        // The checks ran to their end, whatever they found.
        invocations: [{ executionSuccessful: true }],
        artifacts: [{ location: { uri: encodeURIComponent(jobName) }, roles: ['analysisTarget'] }],
        columnKind: 'utf16CodeUnits',
        results: list.findings.map(one => result(one, jobName, codes)),
        properties: { design, jobVersion: versions.job, artSha256: versions.art },
      },
    ],
  }
  return `${JSON.stringify(log, null, 2)}\n`
}

function result(finding: ListedFinding, jobName: string, codes: readonly string[]): object {
  const { severity, code, where, message, fix, check, key, box, held, measured, limit, waiver } = finding
  return {
    ruleId: code,
    ruleIndex: codes.indexOf(code),
    level: severity,
    message: { text: `${sentence(message)} ${fix}`.trim() },
    locations: [
      {
        physicalLocation: { artifactLocation: { uri: encodeURIComponent(jobName), index: 0 } },
        logicalLocations: [{ name: where }],
      },
    ],
    partialFingerprints: { 'findingKey/v1': key },
    ...(waiver === null
      ? {}
      : {
          suppressions: [
            {
              kind: 'external',
              status: 'accepted',
              justification: `${waiver.reason} (${waiver.by}, ${waiver.on})`,
            },
          ],
        }),
    properties: { check, box, held, measured, limit },
  }
}

/** The first sentence alone is shown where room is short, so it has to end. */
const sentence = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`)
