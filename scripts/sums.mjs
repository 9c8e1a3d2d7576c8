// Sums of the test runners' own reports.
import { stripVTControlCharacters } from 'node:util'

/** @typedef {{ passed: number, failed: number, skipped: number }} Sum */
/**
 * What a suite's report says: its sum, a line for each test that is worth one, and apart from them, for the very end
 * of a log, those that failed and those that passed only when run again, each with its first error.
 * @typedef {{ sum: Sum, lines: string[], unsteady: string[], failures: string[] }} Report
 */

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
 * A file that could not even be loaded holds no failed test, yet failed; so did one whose error no test caught.
 * @param {any} report  of Vitest's json reporter, with `strays`
 * @param {any} [again]  the report of the failed files, run once more by themselves
 * @returns {Report}
 */
export function vitestReport(report, again) {
  const now = again === undefined ? report : retold(report, again)
  const tests = now.testResults.flatMap((/** @type {any} */ file) => file.assertionResults)
  const skipped = tests.filter((/** @type {any} */ one) =>
    ['skipped', 'pending', 'todo'].includes(one.status),
  )
  const failures = vitestFailures(now)
  const names = new Set(failures.map(({ name }) => name))
  return {
    sum: {
      passed: tests.filter((/** @type {any} */ one) => one.status === 'passed').length,
      failed: failures.length,
      skipped: skipped.length,
    },
    lines: skipped.map((/** @type {any} */ one) => `  skipped: ${one.fullName}`),
    unsteady: vitestFailures(report)
      .filter(({ name }) => !names.has(name))
      .map(({ name, error }) => `  passed when run again: ${name}${error}`),
    failures: failures.map(({ name, error }) => `  failed: ${name}${error}`),
  }
}

/**
 * The files in which something failed.
 * @param {any} report  of Vitest's json reporter
 * @returns {string[]}
 */
export function failedFiles(report) {
  const failed = report.testResults.filter((/** @type {any} */ file) => file.status === 'failed')
  const strays = report.strays.filter((/** @type {any} */ error) => error.name !== undefined)
  return [...new Set([...failed, ...strays].map(({ name }) => name))]
}

/**
 * @param {any} report  of Vitest's json reporter
 * @param {any} again  the same for some of its files
 */
function retold(report, again) {
  const later = new Map(again.testResults.map((/** @type {any} */ file) => [file.name, file]))
  return {
    strays: [...report.strays.filter((/** @type {any} */ error) => !later.has(error.name)), ...again.strays],
    testResults: report.testResults.map((/** @type {any} */ file) => later.get(file.name) ?? file),
  }
}

/** @param {any} report  of Vitest's json reporter, with `strays` */
function vitestFailures(report) {
  const strays = report.strays.map((/** @type {any} */ error) => ({
    name: `${error.name ?? 'unit tests'}, outside a test`,
    error: brief(error.message),
  }))
  const tests = report.testResults.flatMap((/** @type {any} */ file) => {
    if (file.status === 'failed' && file.assertionResults.length === 0)
      return [{ name: file.name, error: brief(file.message) }]
    return file.assertionResults
      .filter((/** @type {any} */ one) => one.status === 'failed')
      .map((/** @type {any} */ one) => ({
        name: one.fullName,
        error: brief(one.failureMessages?.join('\n')),
      }))
  })
  return [...strays, ...tests]
}

/**
 * @param {any} report  of Playwright's json reporter
 * @returns {Report}
 */
export function playwrightReport(report) {
  const { expected, unexpected, flaky, skipped } = report.stats
  const told = report.suites.flatMap((/** @type {any} */ suite) => outcomes(suite, ''))
  /** @param {string} outcome */
  const lines = outcome =>
    told.filter((/** @type {any} */ one) => one.outcome === outcome).map((/** @type {any} */ one) => one.line)
  return {
    // The report's own errors are of whole files.
    sum: { passed: expected + flaky, failed: unexpected + report.errors.length, skipped },
    lines: [...lines('expected'), ...lines('skipped')],
    unsteady: lines('flaky'),
    failures: [
      ...lines('unexpected'),
      ...report.errors.map((/** @type {any} */ error) => `  failed outside a test${brief(error.message)}`),
    ],
  }
}

/**
 * One line a test: browser and desktop tests depend on what the machine has, so each is named with its outcome.
 * @param {any} suite
 * @param {string} path
 * @returns {{ outcome: 'expected' | 'unexpected' | 'flaky' | 'skipped', line: string }[]}
 */
function outcomes(suite, path) {
  const here = `${path}${suite.title} › `
  return [
    ...(suite.specs ?? []).flatMap((/** @type {any} */ spec) =>
      spec.tests.map((/** @type {any} */ test) => ({
        outcome: test.status,
        line: `  ${ran(test)}: [${test.projectName}] ${here}${spec.title}${brief(firstError(test))}`,
      })),
    ),
    ...(suite.suites ?? []).flatMap((/** @type {any} */ inner) => outcomes(inner, here)),
  ]
}

/**
 * @param {any} test  of Playwright's json reporter
 * @returns {string}
 */
function ran(test) {
  const why = test.annotations.find((/** @type {any} */ one) => one.type === 'skip')?.description
  if (test.status === 'skipped') return `skipped${why ? ` (${why})` : ''}`
  if (test.status === 'flaky') return 'passed when run again'
  return test.status === 'expected' ? 'passed' : 'failed'
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
