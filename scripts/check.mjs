// `npm run check`: types, style, import rules, licences and the third-party notice.
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { argv, execPath, exit } from 'node:process'
import { fileURLToPath } from 'node:url'
import { checkImports } from './check/imports.mjs'
import { checkLicences } from './check/licences.mjs'
import { checkNotice } from './notice.mjs'

/** Each takes the project's root and returns its breaches; none means the check passed. @type {readonly { name: string, run: (root: string) => string[] }[]} */
export const checks = [
  { name: 'types', run: root => tool(root, 'typescript/bin/tsc', ['-b', '--pretty', 'false']) },
  {
    name: 'style',
    run: root => tool(root, '@biomejs/biome/bin/biome', ['check', '--error-on-warnings', '--colors=off']),
  },
  { name: 'imports', run: checkImports },
  { name: 'licences', run: checkLicences },
  { name: 'notice', run: checkNotice },
]

/**
 * @param {string} root
 * @param {string} script  under node_modules
 * @param {readonly string[]} args
 */
function tool(root, script, args) {
  const run = spawnSync(execPath, [join(root, 'node_modules', script), ...args], {
    cwd: root,
    encoding: 'utf8',
  })
  return run.status === 0 ? [] : [`${run.stdout}${run.stderr}`.trimEnd()]
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const root = fileURLToPath(new URL('..', import.meta.url))
  let failed = false
  for (const { name, run } of checks) {
    const breaches = run(root)
    failed ||= breaches.length > 0
    for (const breach of breaches) console.error(breach)
    console.log(`check ${name}: ${breaches.length > 0 ? 'failed' : 'passed'}`)
  }
  exit(failed ? 1 : 0)
}
