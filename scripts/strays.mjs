// A reporter for the unit tests: errors that no test caught, which the json reporter leaves out though they fail the run.
import { writeFileSync } from 'node:fs'

/** Where the errors are written. */
export const straysVariable = 'RAKELIGHT_STRAYS'

export default class Strays {
  /**
   * @param {unknown} _modules
   * @param {readonly { message: string, stack?: string, VITEST_TEST_PATH?: string }[]} errors
   */
  onTestRunEnd(_modules, errors) {
    const path = process.env[straysVariable]
    if (path === undefined) return
    const told = errors.map(error => ({
      name: error.VITEST_TEST_PATH,
      message: error.stack ?? error.message,
    }))
    writeFileSync(path, JSON.stringify(told))
  }
}
