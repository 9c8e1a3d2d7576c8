import { describe, expect, it } from 'vitest'
import { add, playwrightReport, vitestReport } from '../../scripts/sums.mjs'

// Report shapes: Vitest 4 json reporter and Playwright 1.65 json reporter, cut down from real runs.

describe('the sum of a unit run', () => {
  it('counts a file that could not be loaded as a failure, and says what was skipped and why what failed', () => {
    const report = {
      numPassedTests: 3,
      numFailedTests: 1,
      numPendingTests: 1,
      numTodoTests: 0,
      testResults: [
        {
          status: 'failed',
          name: 'tests/broken.test.ts',
          message: 'Cannot find module',
          assertionResults: [],
        },
        {
          status: 'failed',
          name: 'tests/a.test.ts',
          message: '',
          assertionResults: [
            {
              status: 'failed',
              fullName: 'a',
              failureMessages: ['\u001b[31mError: 1 is not 2\u001b[39m\n\n    at a.test.ts:3:5'],
            },
            { status: 'skipped', fullName: 'reads what root may not' },
          ],
        },
      ],
    }
    expect(vitestReport(report)).toEqual({
      sum: { passed: 3, failed: 2, skipped: 1 },
      lines: [
        '  skipped: reads what root may not',
        '  failed: tests/broken.test.ts\n      Cannot find module',
        '  failed: a\n      Error: 1 is not 2\n          at a.test.ts:3:5',
      ],
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

  it('names every test with its outcome and why it was skipped, and counts a flaky one as failed', () => {
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
      sum: { passed: 1, failed: 3, skipped: 1 },
      lines: [
        '  passed: [desktop] open.spec.ts › opens',
        '  failed: [desktop] open.spec.ts › the job › shows\n      no window',
        '  failed: [desktop] open.spec.ts › the job › plays\n      too late',
        '  skipped (no desktop runtime): [desktop] open.spec.ts › the job › saves',
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
