// Builds every part into dist/, or only the parts named: `node scripts/build.mjs cli workers`.
// A part whose inputs have not changed since its last build is left alone.
import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { cpSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { argv, execPath } from 'node:process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))

/**
 * `made` goes on with what was built, before it takes its place. A part without `config` is what `made` makes alone.
 * @typedef {{ inputs: readonly string[], config?: (outDir: string) => import('vite').InlineConfig, made?: (outDir: string) => void }} Part
 */

/** Every part: the folders whose change makes it stale, and how it is built. @type {Record<string, Part>} */
const parts = {
  main: { inputs: ['core', 'electron'], config: node(() => ['electron/main.ts'], 'cjs', 'node18') },
  preload: { inputs: ['core', 'electron'], config: node(() => ['electron/preload.ts'], 'cjs', 'chrome114') },
  workers: { inputs: ['core', 'electron'], config: node(workerEntries, 'cjs', 'node18') },
  cli: { inputs: ['core', 'electron'], config: node(() => ['electron/cli.ts'], 'esm', 'node20') },
  serve: { inputs: ['core', 'electron'], config: node(() => ['electron/launch.ts'], 'esm', 'node20') },
  press: {
    inputs: ['core', 'electron'],
    config: node(() => ['electron/keep-condition.ts'], 'esm', 'node20'),
    made: outDir =>
      execFileSync(execPath, [join(outDir, 'keep-condition.mjs'), outDir], { stdio: 'inherit' }),
  },
  // What type in PDF is read with: fonts that stand in for missing ones, and tables of character codes.
  fonts: { inputs: [], made: copied(['standard_fonts', 'cmaps']) },
  // What pictures in PDF are unpacked by.
  codecs: {
    inputs: [],
    made: copied([
      'wasm/openjpeg.wasm',
      'wasm/jbig2.wasm',
      'wasm/LICENSE_OPENJPEG',
      'wasm/LICENSE_JBIG2',
      'wasm/LICENSE_PDFJS_OPENJPEG',
      'wasm/LICENSE_PDFJS_JBIG2',
    ]),
  },
  renderer: { inputs: ['core', 'renderer'], config: page },
  viewer: { inputs: ['core', 'renderer/stage', 'renderer/standalone'], config: inProof('viewer') },
  loader: { inputs: ['core', 'renderer/standalone'], config: inProof('loader') },
}

export const partNames = Object.keys(parts)

/** What long work runs in and reads: needed behind the window as well as behind the command line. */
export const workParts = ['workers', 'press', 'fonts', 'codecs', 'viewer', 'loader']

/**
 * Builds one part unless it is fresh; returns whether it had to.
 * @param {string} name
 */
export async function build(name) {
  const part = parts[name]
  if (!part) throw new Error(`no part "${name}"; there are ${partNames.join(', ')}`)
  const outDir = join(root, 'dist', name)
  const stamp = stampOf(part.inputs)
  if (readOr(join(outDir, '.stamp')) === stamp) return false

  const vite = await import('vite')
  const making = join(root, 'dist', `.${name}-${process.pid}`)
  const shared = { root, configFile: /** @type {const} */ (false), logLevel: /** @type {const} */ ('warn') }
  try {
    if (part.config) await vite.build({ ...shared, ...part.config(making) })
    part.made?.(making)
    writeFileSync(join(making, '.stamp'), stamp)
    replaceFolder(making, outDir)
  } finally {
    rmSync(making, { recursive: true, force: true })
  }
  return true
}

/**
 * Code for Node or the desktop's main process. Packages are bundled in, so a built file needs no
 * node_modules; `node18` is what the desktop test runtime has inside.
 * @param {() => string[]} entries
 * @param {'cjs' | 'esm'} format
 * @param {string} target
 * @returns {NonNullable<Part['config']>}
 */
function node(entries, format, target) {
  const ending = format === 'cjs' ? 'cjs' : 'mjs'
  return outDir => {
    const files = entries()
    return {
      ssr: { noExternal: true, external: ['electron'] },
      build: {
        ssr: true,
        target,
        outDir,
        minify: false,
        rolldownOptions: {
          checks: { bundlerTimings: false },
          input: Object.fromEntries(files.map(file => [basename(file, '.ts'), join(root, file)])),
          output: {
            format,
            entryFileNames: `[name].${ending}`,
            chunkFileNames: `shared/[name]-[hash].${ending}`,
            ...(files.length === 1 ? { codeSplitting: false } : {}),
          },
        },
      },
    }
  }
}

/**
 * Files of the reader of pages that go with the program as they are, with their licences.
 * @param {readonly string[]} names  of files or folders; a file lies right in the part's folder
 * @returns {NonNullable<Part['made']>}
 */
function copied(names) {
  return outDir => {
    for (const name of names)
      cpSync(join(root, 'node_modules', 'pdfjs-dist', name), join(outDir, basename(name)), {
        recursive: true,
      })
  }
}

/**
 * Everything that the page's first script imports by itself lies in one chunk, whatever later parts share of it: many
 * small ones are packed worse.
 * @returns {(id: string, context: { getModuleInfo(id: string): { readonly importedIds: readonly string[] } | null }) => string | null}
 */
function firstChunk() {
  /** @type {Set<string> | null} */
  let first = null
  return (id, context) => {
    if (first === null) {
      first = new Set([join(root, 'renderer', 'main.tsx')])
      for (const one of first)
        for (const next of context.getModuleInfo(one)?.importedIds ?? []) first.add(next)
    }
    return first.has(id) ? 'first' : null
  }
}

/** @type {NonNullable<Part['config']>} */
function page(outDir) {
  return {
    root: join(root, 'renderer'),
    base: './',
    build: {
      target: 'chrome114',
      outDir,
      emptyOutDir: true,
      // Data URIs would have to be allowed by the content policy; files need no exception.
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      rolldownOptions: {
        checks: { bundlerTimings: false },
        output: { codeSplitting: { groups: [{ name: firstChunk() }] } },
      },
      chunkSizeWarningLimit: 4000,
    },
  }
}

/**
 * What runs inside a one-file proof: one classic script, with its style sheet, for any browser with WebGL 2.
 * @param {string} name of the entry
 * @returns {NonNullable<Part['config']>}
 */
function inProof(name) {
  return outDir => ({
    build: {
      target: ['chrome114', 'safari16.4', 'firefox115'],
      outDir,
      cssCodeSplit: false,
      chunkSizeWarningLimit: 2000,
      rolldownOptions: {
        checks: { bundlerTimings: false },
        input: join(root, 'renderer', 'standalone', `${name}.ts`),
        output: { format: 'iife', entryFileNames: `${name}.js`, assetFileNames: `${name}[extname]` },
      },
    },
  })
}

function workerEntries() {
  const folder = 'electron/workers'
  return readdirSync(join(root, folder))
    .filter(name => name.endsWith('.ts'))
    .map(name => `${folder}/${name}`)
}

/** A name for the state of a part's inputs: every file's path, size and time of change, and the tools. @param {readonly string[]} inputs */
function stampOf(inputs) {
  const hash = createHash('sha256')
  for (const name of [...inputs, 'package-lock.json', 'scripts/build.mjs']) addToStamp(hash, name)
  return hash.digest('hex')
}

/**
 * @param {import('node:crypto').Hash} hash
 * @param {string} name
 */
function addToStamp(hash, name) {
  const path = join(root, name)
  const info = statSync(path, { throwIfNoEntry: false })
  if (info?.isDirectory()) {
    for (const child of readdirSync(path).sort()) addToStamp(hash, `${name}/${child}`)
    return
  }
  hash.update(`${name} ${info?.size} ${info?.mtimeMs}\n`)
}

/** Swaps a finished folder in; where another process was quicker, its equal result stays. @param {string} made @param {string} place */
function replaceFolder(made, place) {
  const old = `${made}-old`
  try {
    renameSync(place, old)
  } catch {}
  try {
    renameSync(made, place)
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOTEMPTY')) throw error
  } finally {
    rmSync(old, { recursive: true, force: true })
  }
}

/** @param {string} path */
function readOr(path) {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const wanted = argv.slice(2)
  for (const name of wanted.length > 0 ? wanted : partNames)
    console.log(`${name}: ${(await build(name)) ? 'built' : 'up to date'}`)
}
