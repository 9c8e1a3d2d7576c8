// `npm test`: check, build, unit tests, browser tests with the shader's parity, desktop tests; one sum at the end.
import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { execPath, exit } from 'node:process'
import { fileURLToPath } from 'node:url'
import { browserHint, findBrowser } from './find/browser.mjs'
import { findDesktop, hasDisplay } from './find/desktop.mjs'
import { straysVariable } from './strays.mjs'
import { add, failedFiles, nothing, playwrightReport, vitestReport } from './sums.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const results = join(root, 'test-results', 'sums')
/** A suite that hangs is ended and counts as failed. */
const limitMs = 45 * 60_000
/**
 * What fails is run once more, alone: on a busy machine a test that waits for something may run out of its time. One
 * that passes then is named with its error. More failures than this are no chance, and are not run again.
 */
const againAtMost = 5

rmSync(results, { recursive: true, force: true })
mkdirSync(results, { recursive: true })
/** Lines for the end, where they are read. @type {string[]} */
const said = []
/** And for the very end: the log of a machine elsewhere may be kept from its end only. @type {string[]} */
const wrong = []
let sum = nothing

step('check', 'scripts/check.mjs')
const built = step('build', 'scripts/build.mjs')
vitest()
if (built) {
  browser()
  desktop()
} else failed('browser and desktop tests: not run, because the build failed')

for (const line of [...said, ...wrong]) console.log(line)
console.log(`${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`)
exit(sum.failed > 0 ? 1 : 0)

/**
 * Something that passes or fails as a whole; it is no test, so only its failure counts.
 * @param {string} name
 * @param {string} script
 */
function step(name, script) {
  const good = run([execPath, join(root, script)]) === 0
  if (good) said.push(`${name}: passed`)
  else failed(`${name}: failed`)
  return good
}

function vitest() {
  const { status, report } = vitestRun('unit', [])
  const files = report === null ? [] : failedFiles(report)
  if (files.length === 0 || files.length > againAtMost)
    return count('unit tests', status, report, vitestReport)
  const again = vitestRun('unit-again', files)
  count('unit tests', again.status, again.report, second => vitestReport(report, second))
}

/**
 * @param {string} name  of the report
 * @param {readonly string[]} files  none for all
 */
function vitestRun(name, files) {
  const path = join(results, `${name}.json`)
  const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs')
  const strays = join(results, `${name}-strays.json`)
  process.env[straysVariable] = strays
  const own = `--reporter=${join(root, 'scripts', 'strays.mjs')}`
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${path}`, own]
  const status = run([execPath, vitest, 'run', ...reporters, ...files])
  const report = readReport(path)
  return { status, report: report && { ...report, strays: readReport(strays) ?? [] } }
}

function browser() {
  const found = findBrowser()
  if (found === null) return failed(`browser tests: not run. ${browserHint}`)
  process.env.CHROME = found
  said.push(`browser: ${found}`)
  playwright('browser tests', ['browser'], [])
  playwright('shader tests', ['gpu'], [])
}

/** Without a runtime or a display each desktop test skips itself, so that the report names it. */
function desktop() {
  said.push(`desktop runtime: ${findDesktop(root) ?? 'none'}`)
  const virtual = !hasDisplay() && spawnSync('xvfb-run', ['--help']).status === 0
  playwright('desktop tests', ['desktop'], virtual ? ['xvfb-run', '-a'] : [])
}

/**
 * @param {string} name
 * @param {readonly string[]} projects
 * @param {readonly string[]} under  a command that runs the rest
 */
function playwright(name, projects, under) {
  const report = join(results, `${projects[0]}.json`)
  process.env.PLAYWRIGHT_JSON_OUTPUT_FILE = report
  const cli = join(root, 'node_modules', '@playwright', 'test', 'cli.js')
  const chosen = projects.map(project => `--project=${project}`)
  const options = ['--reporter=list,json', '--retries=1', ...chosen]
  const status = run([...under, execPath, cli, 'test', ...options])
  count(name, status, readReport(report), playwrightReport)
}

/** @param {string} path */
function readReport(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8'))
  } catch {
    return null
  }
}

/**
 * Adds a suite's own sum; one that dies without a report, or fails beside it, is a failure.
 * @param {string} name
 * @param {number | null} status
 * @param {any} report  null for none
 * @param {(report: any) => import('./sums.mjs').Report} read
 */
function count(name, status, report, read) {
  if (report === null) return failed(`${name}: ended without a report (status ${status})`)
  const { sum: counted, lines, unsteady, failures } = read(report)
  sum = add(sum, counted)
  said.push(
    `${name}: ${counted.passed} passed, ${counted.failed} failed, ${counted.skipped} skipped`,
    ...lines,
  )
  wrong.push(...unsteady, ...failures)
  if (status !== 0 && counted.failed === 0) failed(`${name}: ended with status ${status}`)
}

/** @param {string} line */
function failed(line) {
  wrong.push(line)
  sum = add(sum, { passed: 0, failed: 1, skipped: 0 })
}

/** @param {readonly string[]} command */
function run([program = '', ...args]) {
  return spawnSync(program, args, { cwd: root, stdio: 'inherit', timeout: limitMs }).status
}
