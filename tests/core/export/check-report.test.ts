import { describe, expect, test } from 'vitest'
import { readXml, type XmlElement } from '../../../core/base/xml.ts'
import { listed } from '../../../core/checks/run.ts'
import {
  boxWords,
  checkJson,
  checkReport,
  limitWords,
  numberWords,
} from '../../../core/export/check-report.ts'
import { junit } from '../../../core/export/junit.ts'
import { sarif } from '../../../core/export/sarif.ts'
import { addVariant, chooseVariant } from '../../../core/job/variants.ts'
import { checkFinding, waiverOf } from '../../support/check-finding.ts'
import { plainJob } from '../../support/job.ts'

const list = listed(
  [
    checkFinding(),
    checkFinding({ key: 'code & <cut>', code: 'code-cut', check: 'codes', message: 'is cut "here"\u0007' }),
    checkFinding({
      key: 'sum',
      code: 'holography-hidden',
      check: 'accounting',
      severity: 'warning',
      box: null,
      held: null,
      measured: null,
      limit: null,
    }),
    checkFinding({ key: 'known', code: 'code-cut', check: 'codes', severity: 'note' }),
  ],
  [waiverOf('code & <cut>'), waiverOf('gone')],
  ['legibility', 'glare', 'codes', 'accounting'],
)
const report = checkReport(plainJob, 'Halden öffnen.job.json', '0.1.0', list)

test('JSON says what was checked, how it stands, and who waived what', () => {
  expect(checkJson(report)).toEqual({
    job: 'Halden öffnen.job.json',
    design: 'Base',
    versions: { rakelight: '0.1.0', job: 3, art: 'ab'.repeat(32) },
    ran: list.ran,
    sums: { fails: 1, warnings: 1, notes: 1, waived: 1 },
    findings: list.findings,
    waived: [waiverOf('code & <cut>')],
    unusedWaivers: [waiverOf('gone')],
  })
  const second = chooseVariant(0)(addVariant('Night sky')(plainJob))
  expect(checkReport(second, 'x', '1', list).design).toBe('Night sky')
})

test('numbers, limits and places in words', () => {
  expect(numberWords({ value: -0.123456, unit: 'mm' })).toBe('−0.1235 mm')
  expect(numberWords({ value: 1200, unit: '' })).toBe('1200')
  expect(limitWords(checkFinding().limit!)).toBe('4.5 :1 (by a standard: WCAG 2.2, 1.4.3)')
  expect(boxWords(checkFinding())).toBe('x 10.0 to 32.0 mm, y 20.3 to 24.0 mm')
  expect(boxWords({ box: null })).toBe('')
})

/**
 * Fields that an object must have, and all that it may have of those that are written here, from the JSON schema of the
 * OASIS Standard SARIF 2.1.0 (sarif-schema-2.1.0.json of the technical committee's repository); its objects take no
 * others, but for property bags.
 */
const schema = {
  log: { must: ['version', 'runs'], may: ['$schema', 'properties'] },
  run: { must: ['tool'], may: ['invocations', 'artifacts', 'columnKind', 'results', 'properties'] },
  tool: { must: ['driver'], may: ['extensions', 'properties'] },
  driver: { must: ['name'], may: ['version', 'semanticVersion', 'rules'] },
  rule: { must: ['id'], may: ['name', 'shortDescription'] },
  invocation: { must: ['executionSuccessful'], may: ['exitCode'] },
  artifact: { must: [], may: ['location', 'roles', 'mimeType'] },
  result: {
    must: ['message'],
    may: [
      'ruleId',
      'ruleIndex',
      'kind',
      'level',
      'locations',
      'partialFingerprints',
      'suppressions',
      'properties',
    ],
  },
  message: { must: ['text'], may: ['markdown', 'id', 'arguments'] },
  location: { must: [], may: ['id', 'physicalLocation', 'logicalLocations', 'message'] },
  suppression: { must: ['kind'], may: ['guid', 'status', 'justification', 'location'] },
} as const
type Shape = keyof typeof schema
type Json = Record<string, unknown>

function isA(shape: Shape, value: unknown): Json {
  const { must, may } = schema[shape]
  const names = Object.keys(value as Json)
  expect(names).toEqual(expect.arrayContaining([...must]))
  expect([...must, ...may]).toEqual(expect.arrayContaining(names))
  return value as Json
}
const all = (shape: Shape, values: unknown): Json[] => (values as unknown[]).map(one => isA(shape, one))

describe('SARIF', () => {
  const log = isA('log', JSON.parse(sarif(report)))
  const [run] = all('run', log.runs)
  const results = all('result', run!.results)
  const driver = isA('driver', isA('tool', run!.tool).driver)

  test('every object has the fields that the schema wants, and none that it does not know', () => {
    expect(log.version).toBe('2.1.0')
    const rules = all('rule', driver.rules).map(one => one.id)
    // uniqueItems in the schema.
    expect(new Set(rules).size).toBe(rules.length)
    expect(all('invocation', run!.invocations)).toEqual([{ executionSuccessful: true }])
    const artifacts = all('artifact', run!.artifacts)
    for (const result of results) {
      expect(['none', 'note', 'warning', 'error']).toContain(result.level)
      expect(rules[result.ruleIndex as number]).toBe(result.ruleId)
      expect(typeof isA('message', result.message).text).toBe('string')
      for (const { physicalLocation } of all('location', result.locations)) {
        const { artifactLocation } = physicalLocation as { artifactLocation: { uri: string; index: number } }
        expect(artifacts[artifactLocation.index]!.location).toEqual({ uri: artifactLocation.uri })
        // A URI reference of RFC 3986 has no space and no letter beyond ASCII.
        expect(artifactLocation.uri).toBe('Halden%20%C3%B6ffnen.job.json')
      }
      expect(Object.values(result.partialFingerprints as Json).every(one => typeof one === 'string')).toBe(
        true,
      )
    }
  })

  test('a result is a finding; one that is waived is suppressed with reason and name', () => {
    expect(results.map(one => [one.ruleId, one.level])).toEqual(
      list.findings.map(one => [one.code, one.severity]),
    )
    const suppressed = results.filter(one => one.suppressions !== undefined)
    expect(suppressed).toHaveLength(1)
    expect(all('suppression', suppressed[0]!.suppressions)).toEqual([
      {
        kind: 'external',
        status: 'accepted',
        justification: 'a caption <nobody> reads (I. Halden, 2026-03-31)',
      },
    ])
    expect(results[0]!.message).toEqual({
      text: 'cannot be read at 20° forward. Lay white under it.',
    })
    expect(results[0]!.properties).toMatchObject({ box: list.findings[0]!.box })
  })

  test('an empty list is a run without results', () => {
    const none = JSON.parse(sarif({ ...report, list: listed([], []) }))
    expect(none.runs[0].results).toEqual([])
  })
})

describe('JUnit', () => {
  const xml = (text: string): XmlElement => readXml(new TextEncoder().encode(text), 'junit.xml')
  const root = xml(junit(report))

  test('a suite is a check that ran, and its sums are those of its cases', () => {
    expect(root.name).toBe('testsuites')
    expect(root.children.map(one => one.attributes.name)).toEqual([
      'legibility',
      'codes',
      'glare',
      'accounting',
    ])
    for (const suite of root.children) {
      const count = (name: string): string =>
        String(suite.children.filter(one => one.children[0]?.name === name).length)
      expect(suite.attributes).toMatchObject({
        tests: String(suite.children.length),
        failures: count('failure'),
        skipped: count('skipped'),
      })
    }
    expect(root.attributes).toMatchObject({ tests: '5', failures: '1', skipped: '1' })
  })

  test('an error fails, a waived one is skipped, the rest pass and say so', () => {
    const cases = root.children.flatMap(one => one.children)
    expect(cases.map(one => [one.attributes.name, one.children[0]?.name])).toEqual([
      ['text-lost:Comet 1:400', 'failure'],
      ['code & <cut>', 'skipped'],
      ['known', 'system-out'],
      ['nothing found', undefined],
      ['sum', 'system-out'],
    ])
    const [failure] = cases[0]!.children
    expect(failure!.attributes).toEqual({ type: 'text-lost', message: 'cannot be read at 20° forward' })
    expect(failure!.text).toContain('limit 4.5 :1 (by a standard: WCAG 2.2, 1.4.3)')
  })

  test('whatever a name has in it, the file is well-formed', () => {
    const wild = checkFinding({ key: '\u0000 ]]> & \ud800 \uffff "\n', message: '\u001b[2J</failure>' })
    const [suite] = xml(junit({ ...report, list: listed([wild], []) })).children
    expect(suite!.children[0]!.children[0]!.attributes.message).toBe('[2J</failure>')
  })
})
