// `npm run report`: judges every published value and the fast picture against the slow truth, and draws the plots.
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { exit } from 'node:process'
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
const { report } = await import(pathToFileURL(join(made, 'report.mjs')).href)
exit(report(root) ? 0 : 1)
