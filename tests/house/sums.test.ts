import { describe, expect, it } from 'vitest'
import { add, failedFiles, playwrightReport, vitestReport } from '../../scripts/sums.mjs'

// Report shapes: Vitest 4 json reporter and Playwright 1.65 json reporter, cut down from real runs.

const failure = (fullName: string, message: string): object => ({
  status: 'failed',
  fullName,
  failureMessages: [message],
})
const passing = (fullName: string): object => ({ status: 'passed', fullName })

describe('the sum of a unit run', () => {
  const unloaded = {
    status: 'failed',
    name: 'tests/broken.test.ts',
    message: 'Cannot find module',
    assertionResults: [],
  }
  const report = {
    strays: [{ name: 'tests/c.test.ts', message: 'a stream that nobody awaited' }],
    testResults: [
      unloaded,
      {
        status: 'failed',
        name: 'tests/a.test.ts',
        message: '',
        assertionResults: [
          failure('a', '\u001b[31mError: 1 is not 2\u001b[39m\n\n    at a.test.ts:3:5'),
          passing('b'),
          { status: 'skipped', fullName: 'reads what root may not' },
        ],
      },
      { status: 'passed', name: 'tests/c.test.ts', message: '', assertionResults: [passing('c')] },
    ],
  }

  it('counts a file that could not be loaded as a failure, and says what was skipped and why what failed', () => {
    expect(failedFiles(report)).toEqual(['tests/broken.test.ts', 'tests/a.test.ts', 'tests/c.test.ts'])
    expect(vitestReport(report)).toEqual({
      sum: { passed: 2, failed: 3, skipped: 1 },
      lines: ['  skipped: reads what root may not'],
      unsteady: [],
      failures: [
        '  failed: tests/c.test.ts, outside a test\n      a stream that nobody awaited',
        '  failed: tests/broken.test.ts\n      Cannot find module',
        '  failed: a\n      Error: 1 is not 2\n          at a.test.ts:3:5',
      ],
    })
  })

  it('takes the failed files from their second run, and names what passed only then', () => {
    const again = {
      strays: [],
      testResults: [
        { status: 'passed', name: 'tests/c.test.ts', message: '', assertionResults: [passing('c')] },
        unloaded,
        {
          status: 'passed',
          name: 'tests/a.test.ts',
          message: '',
          assertionResults: [
            passing('a'),
            passing('b'),
            { status: 'skipped', fullName: 'reads what root may not' },
          ],
        },
      ],
    }
    expect(vitestReport(report, again)).toEqual({
      sum: { passed: 3, failed: 1, skipped: 1 },
      lines: ['  skipped: reads what root may not'],
      unsteady: [
        '  passed when run again: tests/c.test.ts, outside a test\n      a stream that nobody awaited',
        '  passed when run again: a\n      Error: 1 is not 2\n          at a.test.ts:3:5',
      ],
      failures: ['  failed: tests/broken.test.ts\n      Cannot find module'],
    })
  })
})

describe('the sum of an end-to-end run', () => {
  const suite = (title: string, inside: object): object => ({ title, specs: [], suites: [], ...inside })
  const spec = (
    title: string,
    status: string,
    { annotations = [], errors = [] }: { annotations?: object[]; errors?: string[] } = {},
  ): object => ({
    title,
    tests: [
      {
        projectName: 'desktop',
        status,
        annotations,
        results: [{ errors: errors.map(message => ({ message })) }, { errors: [] }],
      },
    ],
  })

  it('names every test with its outcome and why it was skipped, and a flaky one with its first error', () => {
    const report = {
      stats: { expected: 1, unexpected: 1, flaky: 1, skipped: 1 },
      errors: [{ message: 'a file could not be loaded' }],
      suites: [
        suite('open.spec.ts', {
          specs: [spec('opens', 'expected')],
          suites: [
            suite('the job', {
              specs: [
                spec('shows', 'unexpected', { errors: ['no window', 'closed'] }),
                spec('plays', 'flaky', { errors: ['too late'] }),
                spec('saves', 'skipped', {
                  annotations: [{ type: 'skip', description: 'no desktop runtime' }],
                }),
              ],
            }),
          ],
        }),
      ],
    }
    expect(playwrightReport(report)).toEqual({
      sum: { passed: 2, failed: 2, skipped: 1 },
      lines: [
        '  passed: [desktop] open.spec.ts › opens',
        '  skipped (no desktop runtime): [desktop] open.spec.ts › the job › saves',
      ],
      unsteady: ['  passed when run again: [desktop] open.spec.ts › the job › plays\n      too late'],
      failures: [
        '  failed: [desktop] open.spec.ts › the job › shows\n      no window',
        '  failed outside a test\n      a file could not be loaded',
      ],
    })
  })
})

describe('two sums', () => {
  it('add field by field', () => {
    expect(add({ passed: 1, failed: 2, skipped: 3 }, { passed: 10, failed: 20, skipped: 30 })).toEqual({
      passed: 11,
      failed: 22,
      skipped: 33,
    })
  })
})
