// `npm run report`: judges every published value, the fast picture against the slow truth and planes of ink against a
// separation renderer, and draws the plots.
import { spawnSync } from 'node:child_process'
import { existsSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { execPath, exit } from 'node:process'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'vite'

const root = fileURLToPath(new URL('..', import.meta.url))
// As deep as the tests that it bundles, whose fixtures are found from where they are.
const made = join(root, 'dist', 'report', 'code')
rmSync(made, { recursive: true, force: true })
await build({
  root,
  configFile: false,
  logLevel: 'warn',
  build: {
    ssr: join(root, 'tests', 'report', 'report.ts'),
    target: 'node20',
    outDir: made,
    minify: false,
    rolldownOptions: { output: { format: 'esm', entryFileNames: 'report.mjs' } },
  },
})
// Planes are compared by a test, which leaves their table. A minute or two: only where it is not there yet.
if (!existsSync(join(root, 'dist', 'report', 'separations.tsv')))
  spawnSync(
    execPath,
    [join(root, 'node_modules', 'vitest', 'vitest.mjs'), 'run', 'tests/core/art/separations.test.ts'],
    { cwd: root, stdio: 'inherit' },
  )
const { report } = await import(pathToFileURL(join(made, 'report.mjs')).href)
exit(report(root) ? 0 : 1)
