// Sums of the test runners' own reports.
import { stripVTControlCharacters } from 'node:util'

/** @typedef {{ passed: number, failed: number, skipped: number }} Sum */
/** What a suite's report says: its sum, and a line for each test that did not run and why. @typedef {{ sum: Sum, lines: string[] }} Report */

/** @type {Sum} */
export const nothing = { passed: 0, failed: 0, skipped: 0 }

/**
 * @param {Sum} a
 * @param {Sum} b
 * @returns {Sum}
 */
export function add(a, b) {
  return { passed: a.passed + b.passed, failed: a.failed + b.failed, skipped: a.skipped + b.skipped }
}

/**
 * A file that could not even be loaded holds no failed test, yet failed.
 * @param {any} report  of Vitest's json reporter
 * @returns {Report}
 */
export function vitestReport(report) {
  const unloaded = report.testResults.filter(
    (/** @type {any} */ file) => file.status === 'failed' && file.assertionResults.length === 0,
  )
  const results = report.testResults.flatMap((/** @type {any} */ file) => file.assertionResults)
  const skipped = results.filter(
    (/** @type {any} */ one) => one.status === 'skipped' || one.status === 'pending',
  )
  const failed = results.filter((/** @type {any} */ one) => one.status === 'failed')
  return {
    sum: {
      passed: report.numPassedTests,
      failed: report.numFailedTests + unloaded.length,
      skipped: report.numPendingTests + report.numTodoTests,
    },
    lines: [
      ...skipped.map((/** @type {any} */ one) => `  skipped: ${one.fullName}`),
      ...unloaded.map((/** @type {any} */ file) => `  failed: ${file.name}${brief(file.message)}`),
      ...failed.map(
        (/** @type {any} */ one) => `  failed: ${one.fullName}${brief(one.failureMessages?.join('\n'))}`,
      ),
    ],
  }
}

/**
 * @param {any} report  of Playwright's json reporter
 * @returns {Report}
 */
export function playwrightReport(report) {
  const { expected, unexpected, flaky, skipped } = report.stats
  return {
    // A test that passes only when tried again has failed; the report's own errors are of whole files.
    sum: { passed: expected, failed: unexpected + flaky + report.errors.length, skipped },
    lines: [
      ...report.suites.flatMap((/** @type {any} */ suite) => outcomes(suite, '')),
      ...report.errors.map((/** @type {any} */ error) => `  failed outside a test${brief(error.message)}`),
    ],
  }
}

/**
 * One line a test: browser and desktop tests depend on what the machine has, so each is named with its outcome.
 * @param {any} suite
 * @param {string} path
 * @returns {string[]}
 */
function outcomes(suite, path) {
  const here = `${path}${suite.title} › `
  return [
    ...(suite.specs ?? []).flatMap((/** @type {any} */ spec) =>
      spec.tests.map((/** @type {any} */ test) => {
        const why = test.annotations.find((/** @type {any} */ one) => one.type === 'skip')?.description
        const ran =
          test.status === 'skipped'
            ? `skipped${why ? ` (${why})` : ''}`
            : test.status === 'expected'
              ? 'passed'
              : 'failed'
        const error = ran === 'failed' ? brief(firstError(test)) : ''
        return `  ${ran}: [${test.projectName}] ${here}${spec.title}${error}`
      }),
    ),
    ...(suite.suites ?? []).flatMap((/** @type {any} */ inner) => outcomes(inner, here)),
  ]
}

/**
 * Of a flaky test the try that failed, not the one that passed.
 * @param {any} test  of Playwright's json reporter
 * @returns {string | undefined}
 */
function firstError(test) {
  return test.results.flatMap((/** @type {any} */ one) => one.errors)[0]?.message
}

/**
 * The first lines of an error without the terminal's colours, so that the last lines of a long log tell why.
 * @param {string | undefined} message
 */
function brief(message) {
  const plain = stripVTControlCharacters(message ?? '').trim()
  const lines = plain.split('\n').filter(line => line.trim() !== '')
  return lines
    .slice(0, 8)
    .map(line => `\n      ${line.trimEnd().slice(0, 200)}`)
    .join('')
}
