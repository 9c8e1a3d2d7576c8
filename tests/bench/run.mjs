// `npm run bench [NAME …]`: builds and runs each bench in a process of its own, prints and keeps the results.
import { spawnSync } from 'node:child_process'
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, platform, release, totalmem } from 'node:os'
import { basename, join } from 'node:path'
import { argv, execPath, exit, version } from 'node:process'
import { fileURLToPath } from 'node:url'
import { build as viteBuild } from 'vite'
import { build, workParts } from '../../scripts/build.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))
const here = join(root, 'tests', 'bench')
const built = join(root, 'dist', 'bench')
const results = join(here, 'results')

const all = readdirSync(here)
  .filter(name => name.endsWith('.ts') && name !== 'bench.ts')
  .map(name => basename(name, '.ts'))
const wanted = argv.slice(2)
for (const name of wanted) if (!all.includes(name)) stop(`no bench "${name}"; there are ${all.join(', ')}`)

for (const part of ['renderer', ...workParts]) await build(part)
await buildBenches(wanted.length > 0 ? wanted : all)
mkdirSync(results, { recursive: true })
let failed = false
for (const name of wanted.length > 0 ? wanted : all) failed = !runOne(name) || failed
exit(failed ? 1 : 0)

/** @param {readonly string[]} names */
async function buildBenches(names) {
  rmSync(built, { recursive: true, force: true })
  await viteBuild({
    root,
    configFile: false,
    logLevel: 'warn',
    ssr: { external: ['vite', '@playwright/test'] },
    build: {
      ssr: true,
      target: 'node20',
      outDir: built,
      minify: false,
      rolldownOptions: {
        input: Object.fromEntries(names.map(name => [name, join(here, `${name}.ts`)])),
        output: { format: 'esm', entryFileNames: '[name].mjs', chunkFileNames: 'shared/[name]-[hash].mjs' },
      },
    },
  })
}

/**
 * Whether it ran and kept within its aims.
 * @param {string} name
 */
function runOne(name) {
  const made = join(built, `${name}.json`)
  const caller =
    'const [file, out] = process.argv.slice(1); const { run } = await import(file);' +
    "const { writeFileSync } = await import('node:fs'); writeFileSync(out, JSON.stringify(await run()))"
  const args = ['--expose-gc', '--input-type=module', '-e', caller, join(built, `${name}.mjs`), made]
  const { status } = spawnSync(execPath, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] })
  if (status !== 0) {
    console.error(`bench ${name}: ended with status ${status}`)
    return false
  }
  /** @type {import('./bench.ts').BenchResult} */
  const result = JSON.parse(readFileSync(made, 'utf8'))
  print(result)
  const kept = { machine: machine(), date: new Date().toISOString().slice(0, 10), ...result }
  writeFileSync(join(results, `${name}.json`), `${JSON.stringify(kept, null, 2)}\n`)
  return result.rows.every(isWithin)
}

/** @param {import('./bench.ts').BenchRow} row */
function isWithin({ value, aim }) {
  return aim === null || value <= aim
}

/** @param {import('./bench.ts').BenchResult} result */
function print({ title, rows }) {
  const width = Math.max(...rows.map(row => row.name.length))
  console.log(`\n${title}`)
  for (const row of rows) {
    const aim = row.aim === null ? '' : `   aim <= ${row.aim}${isWithin(row) ? '' : '   MISSED'}`
    console.log(`  ${row.name.padEnd(width)}  ${row.value.toPrecision(4).padStart(9)} ${row.unit}${aim}`)
  }
}

function machine() {
  const [cpu] = cpus()
  return {
    cpu: cpu?.model.trim() ?? 'unknown',
    cores: cpus().length,
    memoryGB: Math.round(totalmem() / 1e9),
    system: `${platform()} ${release()}`,
    node: version,
  }
}

/** @param {string} message @returns {never} */
function stop(message) {
  console.error(message)
  exit(1)
}
